package share

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"html/template"
	"net/http"
)

// The page that asks for the code. A code scanned from the terminal stands behind the #, which no browser sends or logs.
const doorStyle = `body{margin:0;padding:24px;max-width:34em;background:#FBFAF6;color:#14201D;font:18px/1.5 system-ui,sans-serif}
input,button{font:inherit;min-height:56px;box-sizing:border-box;border:2px solid #14201D;border-radius:0;padding:0 16px}
input{width:11em;font-variant-numeric:tabular-nums;letter-spacing:.1em;background:#fff;color:#14201D}
button{background:#0B4F6C;color:#fff;border-color:#0B4F6C}
:focus-visible{outline:4px solid #0B4F6C;outline-offset:2px}
.no{color:#8A1C1C;font-weight:700}`

const doorScript = `(function () {
  var m = /^#(\d{8})$/.exec(location.hash);
  if (!m) return;
  history.replaceState(null, '', location.pathname);
  document.getElementById('code').value = m[1];
  document.forms[0].submit();
})();`

var doorPage = template.Must(template.New("door").Parse(`<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<title>Enter the code</title><link rel="icon" href="data:,"><style>{{.Style}}</style></head>
<body><h1>{{.Name}}</h1>
{{with .Refused}}<p class="no" role="alert">■ {{.}}</p>{{end}}
<form method="post" action="/pair"><p><label for="code">Code shown on the computer that gives out this pack:</label></p>
<p><input id="code" name="code" inputmode="numeric" autocomplete="off" maxlength="12" required> <button>Open the pack</button></p></form>
<p>The code works once, for this tablet. Records stay on the tablet and are sent to that computer while it is in reach.</p>
<script>{{.Script}}</script></body></html>
`))

var doorPolicy = "default-src 'none'; style-src " + source(doorStyle) + "; script-src " + source(doorScript) +
	"; img-src data:; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// source names an inline text by its hash in a content security policy.
func source(text string) string {
	sum := sha256.Sum256([]byte(text))
	return "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
}

func (s *Server) writeDoor(w http.ResponseWriter, status int, refused string) {
	var b bytes.Buffer
	err := doorPage.Execute(&b, struct {
		Name, Refused string
		Style         template.CSS
		Script        template.JS
	}{s.o.Site.Name, refused, doorStyle, doorScript})
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Security-Policy", doorPolicy)
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	s.send(w, b.Bytes())
}

// send writes an answer's body; a tablet that has gone is no fault of the server's and is only told.
func (s *Server) send(w http.ResponseWriter, data []byte) {
	if _, err := w.Write(data); err != nil {
		s.tell(Event{Refused: "an answer did not arrive: " + err.Error()})
	}
}
