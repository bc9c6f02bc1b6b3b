package pack

// Photo is a picture of a record: a small one in the page, and the whole one in the pack's folder.
type Photo struct {
	Small         string // data: address
	Width, Height int    // of the small one
	File          string // in the folder
}
