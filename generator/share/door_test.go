package share_test

import (
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"lapwork/generator/share"
)

func TestCodeLetsOneTabletIn(t *testing.T) {
	c := newCabin(t, nil)
	stranger := c.client("")
	if status, body := c.do(stranger, "GET", "/", ""); status != 200 || !strings.Contains(body, `name="code"`) || strings.Contains(body, "data-check") {
		t.Errorf("a stranger sees %d %s", status, body)
	}
	if status, _ := c.do(stranger, "POST", share.RecordsPath, "{}"); status != 401 {
		t.Errorf("a stranger's records get %d", status)
	}
	code := c.server.Code()
	let := c.client(code[:4] + " " + code[4:]) // as it is shown
	if status, body := c.do(let, "GET", "/", ""); status != 200 || !strings.Contains(body, "data-post data-build") {
		t.Errorf("let in, and sees %d %s", status, body)
	}
	if c.server.Code() == code {
		t.Error("the code did not change")
	}
	if status, _ := c.do(stranger, "POST", "/pair", "code="+code); status != 403 {
		t.Errorf("a used code gets %d", status)
	}
	cookies := let.Jar.Cookies(mustURL(t, c.web.URL))
	if len(cookies) != 1 {
		t.Fatalf("cookies %v", cookies)
	}
	for path := range walk(t, c.job) {
		if data, err := os.ReadFile(path); err != nil || strings.Contains(string(data), cookies[0].Value) {
			t.Errorf("%s holds the token itself, %v", path, err)
		}
	}
	// After a restart the tablet is still known.
	c.start(nil)
	let.Jar.SetCookies(mustURL(t, c.web.URL), cookies)
	if status, body := c.do(let, "GET", "/", ""); status != 200 || !strings.Contains(body, "data-check") {
		t.Errorf("after a restart %d", status)
	}
}

func walk(t *testing.T, dir string) map[string]bool {
	t.Helper()
	out := map[string]bool{}
	if err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			out[path] = true
		}
		return err
	}); err != nil {
		t.Fatal(err)
	}
	return out
}

func mustURL(t *testing.T, text string) *url.URL {
	t.Helper()
	u, err := url.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return u
}

func TestGuessingIsSlow(t *testing.T) {
	c := newCabin(t, nil)
	client := c.client("")
	code := c.server.Code()
	wrong := "00000000"
	if code == wrong {
		wrong = "00000001"
	}
	for i := range 5 {
		if status, _ := c.do(client, "POST", "/pair", "code="+wrong); status != 403 {
			t.Fatalf("try %d gets %d", i, status)
		}
	}
	if status, _ := c.do(client, "POST", "/pair", "code="+code); status != 429 {
		t.Errorf("the sixth try gets %d, even with the right code", status)
	}
	c.pass(15 * time.Second)
	if status, _ := c.do(client, "POST", "/pair", "code="+code); status != 200 {
		t.Errorf("after a while the right code gets %d", status)
	}
}
