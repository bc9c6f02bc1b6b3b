package share

import (
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"crypto/tls"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/hex"
	"encoding/pem"
	"errors"
	"io"
	"math/big"
	"net"
	"os"
	"path/filepath"
	"strings"
	"time"
)

// certAge is how long a certificate of our own holds: browsers refuse one above 825 days (from memory).
const certAge = 397 * 24 * time.Hour

// Certificate gives a certificate for the addresses and names, signed by itself. It is kept in folder dir and used again
// while it holds and covers them, so that a tablet has to accept it once.
func Certificate(dir string, hosts []string, now time.Time, random io.Reader) (tls.Certificate, error) {
	certFile, keyFile := filepath.Join(dir, "share-cert.pem"), filepath.Join(dir, "share-key.pem")
	if old, err := tls.LoadX509KeyPair(certFile, keyFile); err == nil && covers(old.Leaf, hosts, now) {
		return old, nil
	}
	certPEM, keyPEM, err := selfSigned(hosts, now, random)
	if err != nil {
		return tls.Certificate{}, err
	}
	err = errors.Join(os.MkdirAll(dir, 0o700), os.WriteFile(keyFile, keyPEM, 0o600), os.WriteFile(certFile, certPEM, 0o644))
	if err != nil {
		return tls.Certificate{}, err
	}
	return tls.X509KeyPair(certPEM, keyPEM)
}

func covers(leaf *x509.Certificate, hosts []string, now time.Time) bool {
	for _, h := range hosts {
		if leaf.VerifyHostname(h) != nil {
			return false
		}
	}
	return now.After(leaf.NotBefore) && now.Before(leaf.NotAfter.Add(-24*time.Hour))
}

func selfSigned(hosts []string, now time.Time, random io.Reader) (certPEM, keyPEM []byte, err error) {
	key, err := ecdsa.GenerateKey(elliptic.P256(), random)
	if err != nil {
		return nil, nil, err
	}
	serial, err := rand.Int(random, new(big.Int).Lsh(big.NewInt(1), 120))
	if err != nil {
		return nil, nil, err
	}
	form := x509.Certificate{SerialNumber: serial, Subject: pkix.Name{CommonName: "Lapwork share"},
		NotBefore: now.Add(-time.Hour), NotAfter: now.Add(certAge), KeyUsage: x509.KeyUsageDigitalSignature,
		ExtKeyUsage: []x509.ExtKeyUsage{x509.ExtKeyUsageServerAuth}, BasicConstraintsValid: true}
	for _, h := range hosts {
		if ip := net.ParseIP(h); ip != nil {
			form.IPAddresses = append(form.IPAddresses, ip)
		} else {
			form.DNSNames = append(form.DNSNames, h)
		}
	}
	cert, err := x509.CreateCertificate(random, &form, &form, &key.PublicKey, key)
	if err != nil {
		return nil, nil, err
	}
	raw, err := x509.MarshalPKCS8PrivateKey(key)
	if err != nil {
		return nil, nil, err
	}
	return pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: cert}),
		pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: raw}), nil
}

// Fingerprint is the SHA-256 of a certificate in groups of two digits, to be compared with what a tablet shows.
func Fingerprint(c tls.Certificate) string {
	if c.Leaf == nil {
		return ""
	}
	sum := sha256.Sum256(c.Leaf.Raw)
	digits := hex.EncodeToString(sum[:])
	var groups []string
	for i := 0; i < len(digits); i += 2 {
		groups = append(groups, digits[i:i+2])
	}
	return strings.Join(groups, ":")
}
