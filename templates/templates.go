// Package templates holds the pages' HTML. A template places finished text; it computes nothing.
package templates

import "embed"

// FS holds one file for each kind of page, and the parts and frames they share.
//
//go:embed *.html
var FS embed.FS
