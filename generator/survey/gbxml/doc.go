// Package gbxml reads gbXML: building models for energy calculation, as their public schema describes them (versions
// 0.37 to 7.03; the schema's annotations of version 6.01 are the source of what elements and attributes mean).
//
// What is read: storeys, spaces with body, outline and stated figures, surfaces with what lies on their two sides,
// openings, constructions with layers. Names are matched by namespace and local name. Every quantity may carry a unit of
// its own, which wins over the file's. Plane polygons are preferred over rectangles; where both are given and differ the
// polygon holds and the difference is counted.
//
// The text is read once, element by element; only what one element holds is in memory beside the result. Declared
// entities are refused, and no file outside is ever opened.
package gbxml
