package pack

import (
	"strings"

	"lapwork/generator/job"
)

// Paper is an attachment. File is where the folder has it; empty: a pack without the job's folder.
type Paper struct{ Title, Kind, For, Size, Hash, File string } // Hash: first digits

// papersDir is where a pack's folder has the attachments.
const papersDir = "papers/"

func (a *assembler) papers() []Paper {
	var out []Paper
	for _, p := range a.Job.Attachments {
		out = append(out, Paper{Title: p.Title, Kind: strings.ReplaceAll(p.Kind, "-", " "), For: p.For, Size: a.size(p.Bytes), Hash: clip(p.Hash, 16), File: PaperFile(p)})
	}
	return out
}

// PaperFile is where a pack's folder has an attachment: its bytes name it, so that two of one name do not meet.
func PaperFile(p job.Attachment) string {
	name := p.File
	if i := strings.LastIndexByte(name, '/'); i >= 0 {
		name = name[i+1:]
	}
	return papersDir + clip(p.Hash, 8) + "-" + name
}

// size writes a file's size.
func (a *assembler) size(bytes int64) string {
	switch {
	case bytes >= 1e6:
		return a.say("%.1f MB", float64(bytes)/1e6)
	case bytes >= 1000:
		return a.say("%d kB", (bytes+500)/1000)
	}
	return a.say("%d bytes", bytes)
}
