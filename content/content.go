// Package content holds what a pack is made from besides the job: the demo job, the detail library, its languages, the tables of the
// trade and the schema of the records. It is handed in as a file system, so that a folder can stand in for it. The schema of
// the job files is made from the keys that read them; the one kept here is for editors and is not embedded.
package content

import "embed"

// FS holds everything under content.
//
//go:embed demo lang library schema/records.schema.json start tables
var FS embed.FS
