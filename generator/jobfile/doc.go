// Package jobfile reads a job as people write it into the typed job, and finds everything that is wrong with it in one
// run, each finding with its file, line and column and what to change.
package jobfile
