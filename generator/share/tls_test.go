package share_test

import (
	"bytes"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"lapwork/generator/share"
)

// TestCertificate: the same certificate comes back while it fits, so that a tablet accepts it once; then a new one.
func TestCertificate(t *testing.T) {
	dir := t.TempDir()
	now := time.Now()
	make := func(now time.Time, hosts ...string) tls.Certificate {
		t.Helper()
		c, err := share.Certificate(dir, hosts, now, rand.Reader)
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	first := make(now, "127.0.0.1", "localhost")
	if again := make(now.Add(24*time.Hour), "127.0.0.1"); !bytes.Equal(again.Certificate[0], first.Certificate[0]) {
		t.Error("another certificate the next day")
	}
	if other := make(now, "192.168.1.20"); bytes.Equal(other.Certificate[0], first.Certificate[0]) {
		t.Error("the same certificate for another address")
	}
	if later := make(now.Add(396*24*time.Hour), "192.168.1.20"); !later.Leaf.NotAfter.After(now.Add(700 * 24 * time.Hour)) {
		t.Error("a certificate that ends tomorrow is used again")
	}
	if got := share.Fingerprint(first); strings.Count(got, ":") != 31 {
		t.Errorf("fingerprint %s", got)
	}

	web := httptest.NewUnstartedServer(http.NotFoundHandler())
	web.TLS = &tls.Config{Certificates: []tls.Certificate{first}}
	web.StartTLS()
	defer web.Close()
	pool := x509.NewCertPool()
	pool.AddCert(first.Leaf)
	client := &http.Client{Transport: &http.Transport{TLSClientConfig: &tls.Config{RootCAs: pool}}}
	resp, err := client.Get(web.URL)
	if err != nil {
		t.Fatalf("a client that trusts the certificate: %v", err)
	}
	resp.Body.Close()
}
