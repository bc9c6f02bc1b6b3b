package main

import (
	"crypto/rand"
	"crypto/tls"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/viper"

	"lapwork/generator/page"
	"lapwork/generator/record"
	"lapwork/generator/share"
)

func newShare() *cobra.Command {
	cmd := &cobra.Command{
		Use:   "share [PACK]",
		Short: "Give a pack to tablets over local Wi-Fi and take their records back",
		Long: `Serves a pack to the tablets on the same network until it is stopped with Ctrl-C. A tablet is let in by the code
shown, or by scanning the picture; each code works once, the next one is shown after it. Records go into the job's
folder as they are made: a tablet counts one as sent when it is on this computer's disk.

Without --lan only this computer can connect. Without --job the pack can be read, and nothing is taken back.
A browser keeps records under the address it was opened at, so keep the port the same from day to day.

--tls keeps others on the network from reading along, with a certificate of this computer's own: a tablet warns once
and shows the fingerprint printed here. It brings the share sheet; it does not make a page reload out of reach.`,
		Example: `  lapwork share                                     look at ./lapwork-pack on this computer
  lapwork share out/mill-lane --job jobs/mill-lane --lan`,
		Args: cobra.MaximumNArgs(1),
		RunE: runShare,
	}
	cmd.Flags().String("job", "", "the job's folder, which takes the records")
	cmd.Flags().Bool("lan", false, "let tablets on the local network connect")
	cmd.Flags().Int("port", 7483, "the port; 0 takes any free one")
	cmd.Flags().Bool("tls", false, "encrypt with a certificate of this computer's own")
	return cmd
}

func runShare(cmd *cobra.Command, args []string) error {
	v, err := settings(cmd, "")
	if err != nil {
		return failed(err)
	}
	dir := "lapwork-pack"
	if len(args) > 0 {
		dir = args[0]
	}
	site, err := share.Load(dir, func(file []byte) []byte { return page.Served(file, share.RecordsPath) })
	if err != nil {
		return failed(err)
	}
	desk := &desk{out: cmd.OutOrStdout(), pack: dir, site: site}
	o := share.Options{Site: site, Now: time.Now, Random: rand.Reader, LAN: v.GetBool("lan"), Secure: v.GetBool("tls"), Tell: desk.tell}
	if o.Store, err = jobStore(v.GetString("job"), site); err != nil {
		return failed(err)
	}
	listener, hosts, err := listen(v)
	if err != nil {
		return failed(err)
	}
	o.Hosts = hosts
	desk.address(listener, hosts, v)
	if v.GetBool("tls") {
		if listener, err = desk.secure(listener, hosts); err != nil {
			return failed(err)
		}
	}
	server, err := share.New(o)
	if err != nil {
		return failed(err)
	}
	desk.server = server
	desk.open(v.GetString("job"))
	return failed(server.Serve(cmd.Context(), listener))
}

// jobStore is where the job keeps records; nil without a job. The pack must be the job's.
func jobStore(job string, site share.Site) (*record.Store, error) {
	if job == "" {
		return nil, nil
	}
	dir, err := jobFolder(job)
	if err != nil {
		return nil, err
	}
	id, err := packOf(dir)
	if err != nil {
		return nil, err
	}
	if id != site.Pack {
		return nil, fmt.Errorf("the pack is of job %s, and %s is job %s\n\thint: name the job that the pack was made of with --job", site.Pack, job, id)
	}
	store := record.At(dir)
	if err := store.Ready(); err != nil {
		return nil, fmt.Errorf("%w\n\thint: records cannot be kept there; make the folder writable and make room, or share without --job, to read only", err)
	}
	return store, store.Sweep(time.Now().Add(-24 * time.Hour))
}

// listen opens the port on this computer alone, or on its local networks too.
func listen(v *viper.Viper) (net.Listener, []string, error) {
	at, hosts := "127.0.0.1", []string{"localhost"}
	if v.GetBool("lan") {
		at = "0.0.0.0"
		found, err := localAddresses()
		if err != nil {
			return nil, nil, err
		}
		if len(found) == 0 {
			return nil, nil, errors.New("this computer is on no local network\n\thint: join the Wi-Fi first, or leave --lan out")
		}
		hosts = append(found, hosts...)
		if name, err := os.Hostname(); err == nil {
			hosts = append(hosts, name, name+".local")
		}
	}
	l, err := net.Listen("tcp4", net.JoinHostPort(at, strconv.Itoa(v.GetInt("port"))))
	if errors.Is(err, syscall.EADDRINUSE) {
		err = fmt.Errorf("%w\n\thint: another share may be running; stop it, or choose another --port", err)
	}
	return l, append(hosts, "127.0.0.1"), err
}

// localAddresses lists this computer's private addresses, which a router gives out.
func localAddresses() ([]string, error) {
	addrs, err := net.InterfaceAddrs()
	if err != nil {
		return nil, err
	}
	var out []string
	for _, a := range addrs {
		if ip, ok := a.(*net.IPNet); ok && ip.IP.To4() != nil && (ip.IP.IsPrivate() || ip.IP.IsLinkLocalUnicast()) {
			out = append(out, ip.IP.String())
		}
	}
	return out, nil
}

// desk shows who runs the server what happens.
type desk struct {
	out    io.Writer
	pack   string
	site   share.Site
	server *share.Server
	urls   []string
	tablet map[string]int // records taken, by tablet
}

func (d *desk) address(l net.Listener, hosts []string, v *viper.Viper) {
	scheme := "http"
	if v.GetBool("tls") {
		scheme = "https"
	}
	addr, ok := l.Addr().(*net.TCPAddr)
	if !ok {
		return
	}
	for _, h := range hosts {
		if net.ParseIP(h) != nil && (!v.GetBool("lan") || h != "127.0.0.1") {
			d.urls = append(d.urls, fmt.Sprintf("%s://%s", scheme, net.JoinHostPort(h, strconv.Itoa(addr.Port))))
		}
	}
}

func (d *desk) secure(l net.Listener, hosts []string) (net.Listener, error) {
	home, err := os.UserConfigDir()
	if err != nil {
		return nil, err
	}
	cert, err := share.Certificate(filepath.Join(home, "lapwork"), hosts, time.Now(), rand.Reader)
	if err != nil {
		return nil, err
	}
	d.say("certificate %s", share.Fingerprint(cert))
	return tls.NewListener(l, &tls.Config{Certificates: []tls.Certificate{cert}, MinVersion: tls.VersionTLS12, NextProtos: []string{"http/1.1"}}), nil
}

func (d *desk) say(format string, args ...any) { fmt.Fprintf(d.out, format+"\n", args...) }

// open says where the pack is and how to get in.
func (d *desk) open(job string) {
	d.say("%s, job %s, revision %s", d.pack, d.site.Job, d.site.Revision)
	if job == "" {
		d.say("records are not taken: name the job's folder with --job")
	} else {
		d.say("records go to %s", filepath.Join(job, record.Folder))
	}
	for _, u := range d.urls {
		d.say("open %s", u)
	}
	d.invite()
	d.say("stop with Ctrl-C")
}

// invite shows the code for the next tablet, and on a terminal the picture of it.
func (d *desk) invite() {
	code := d.server.Code()
	if onTerminal(d.out) && len(d.urls) > 0 {
		if picture, err := share.QR(d.urls[0] + "/pair#" + code); err == nil {
			fmt.Fprint(d.out, picture)
		}
	}
	d.say("code for the next tablet: %s %s", code[:4], code[4:])
}

// tell shows one event.
func (d *desk) tell(e share.Event) {
	at := e.At.Format("15:04")
	switch {
	case e.Paired:
		d.say("%s %s: a tablet was let in", at, e.From)
		d.invite()
	case e.Refused != "":
		d.say("%s %s: %s", at, e.From, plain(e.Refused))
	default:
		d.records(at, e)
	}
	for _, f := range e.Findings {
		d.say("\t%s", strings.ReplaceAll(plainLines(f.String()), "\n", "\n\t"))
	}
}

// records shows what came, a line a tablet.
func (d *desk) records(at string, e share.Event) {
	if d.tablet == nil {
		d.tablet = map[string]int{}
	}
	if len(e.Records) == 0 {
		d.say("%s %s: nothing new, %s known", at, e.From, plural(e.Known, "record"))
	}
	for i := 0; i < len(e.Records); {
		first, n := e.Records[i], 0
		for i < len(e.Records) && e.Records[i].Dev == first.Dev {
			i, n = i+1, n+1
		}
		last := e.Records[i-1]
		d.tablet[first.Dev] += n
		d.say("%s %s: tablet %s, %s: %s to number %d, %d since the start", at, e.From, first.Dev[:6], plain(last.Who), plural(n, "record"),
			last.Seq, d.tablet[first.Dev])
	}
	if e.Photos > 0 {
		d.say("%s %s: %s", at, e.From, plural(e.Photos, "photo"))
	}
}
