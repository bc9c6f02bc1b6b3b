// Package content holds what a pack is made from besides the job: the demo job, the detail library, its languages, the tables of the
// trade and the schema of the job files. It is handed in as a file system, so that a folder can stand in for it.
package content

import "embed"

// FS holds everything under content.
//
//go:embed demo lang library schema start tables
var FS embed.FS
