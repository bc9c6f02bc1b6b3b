// Package themes holds the look of a pack and the scripts that run on a tablet.
package themes

import "embed"

// FS holds the style sheets and the scripts under site/, embedded as they are read.
//
//go:embed site
var FS embed.FS
