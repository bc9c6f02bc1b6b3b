// Package themes holds the look of a pack and the script that records on a tablet.
package themes

import "embed"

// FS holds site/style.css, site/head.js and site/pack.js, embedded as they are read.
//
//go:embed site
var FS embed.FS
