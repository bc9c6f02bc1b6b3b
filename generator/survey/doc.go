// Package survey turns what a building model or a room list says into rooms of a job, and says what it did.
//
// A reader (survey/gbxml, survey/ifc, survey/roomlist) fills a Building: spaces with a body of plane faces or a stated
// shape, and the faces that lie between two spaces or between a space and something else, with their openings and
// penetrations. It converts units, keeps the file's own words and positions, and judges nothing. Take does the rest:
//
//	clean     corners, slivers, bent faces, doubles and directions are put right, each repair reported
//	pair      faces of neighbouring rooms that were written once for each room are joined
//	storeys   are checked against the heights of the floors, and made where the file has none
//	fit       each space becomes a footprint under a ceiling; what lies behind each wall is found; openings are placed
//	close     the layer is followed over all rooms, and edges where it stops are named
//
// The result is a list of rooms, written by Write as the files of a job, and by Merge into a job that people work on.
//
// Lengths in a Building are metres in space, z up; a survey's rooms are whole millimetres, as in package job.
package survey
