package main

import (
	"context"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/url"
	"os"
	"strings"
	"time"

	"boat/hoveshort/config/signalk"
)

// How long a server may take for its whole answer, and how often it may send on. Ours.
const (
	answerWithin  = 10 * time.Second
	mostRedirects = 3
)

// isAddress says that a source is to be asked for over the network.
func isAddress(source string) bool { return strings.Contains(source, "://") }

// signalKSource reads a message: of a file, of the standard input, or of a server at an address
// that the skipper gave. Nothing else is asked for, and nothing is sent but the question.
func (c *call) signalKSource(source string) ([]byte, error) {
	switch {
	case isAddress(source):
		return askServer(c.ctx, source, answerWithin)
	case source == "-" && c.stdinIsTerminal:
		return nil, usage("for example: hoveshort signalk - < message.json", "nothing comes from the standard input")
	case source == "-":
		text, err := limited(c.stdin)
		return text, coded(exitUnreadable, "", err)
	}
	f, err := os.Open(c.path(source))
	if err != nil {
		return nil, coded(exitUnreadable, "name a file with a Signal K message, - for the standard input, or a server's http address", fmt.Errorf("reading the message: %w", err))
	}
	defer func() { _ = f.Close() }() // it was only read
	text, err := limited(f)
	return text, coded(exitUnreadable, "", err)
}

// limited reads no more than a message may be; one byte more tells that it is larger.
func limited(r io.Reader) ([]byte, error) {
	return io.ReadAll(io.LimitReader(r, signalk.MostBytes+1))
}

// serverAddress reads an address: http or https, with a host, and without a password, which would
// stand in the list of processes.
func serverAddress(source string) (*url.URL, error) {
	u, err := url.Parse(source)
	switch {
	case err != nil || u.Host == "" || u.Scheme != "http" && u.Scheme != "https":
		return nil, usage("for example: hoveshort signalk http://192.0.2.10:3000/signalk/v1/api/vessels/self", "%q is no http or https address", source)
	case u.User != nil:
		return nil, usage("leave them out; a server that wants them is not asked", "an address with a name or password in it is not taken")
	}
	return u, nil
}

// askServer asks once, and waits no longer than this for all of the answer.
func askServer(ctx context.Context, source string, within time.Duration) ([]byte, error) {
	u, err := serverAddress(source)
	if err != nil {
		return nil, err
	}
	client := http.Client{
		Timeout:       within,
		CheckRedirect: onlyThere,
		Transport:     &http.Transport{DisableKeepAlives: true, MaxResponseHeaderBytes: 64 << 10}, // no proxy: nobody else is asked
	}
	request, err := http.NewRequestWithContext(ctx, http.MethodGet, u.String(), nil)
	if err != nil {
		return nil, usage("write it like http://192.0.2.10:3000/signalk/v1/api/vessels/self", "%q is no address", source)
	}
	request.Header.Set("Accept", "application/json")
	answer, err := client.Do(request)
	if err != nil {
		return nil, notReached(u, err, within)
	}
	defer func() { _ = answer.Body.Close() }() // it was only read
	if answer.StatusCode != http.StatusOK {
		return nil, notGiven(u, answer)
	}
	text, err := limited(answer.Body)
	if err != nil {
		return nil, notReached(u, err, within)
	}
	return text, nil
}

var errElsewhere = errors.New("sends on to another place")

// onlyThere follows a redirect on the same host and port alone, and never from https to http.
func onlyThere(next *http.Request, before []*http.Request) error {
	first := before[0].URL
	if len(before) > mostRedirects || next.URL.Host != first.Host || first.Scheme == "https" && next.URL.Scheme != "https" {
		return fmt.Errorf("%w, %s", errElsewhere, cut(next.URL.Redacted(), 100))
	}
	return nil
}

// notReached tells why no answer came.
func notReached(u *url.URL, err error, within time.Duration) error {
	var timeout net.Error
	var certificate *tls.CertificateVerificationError
	var authority x509.UnknownAuthorityError
	var name *net.DNSError
	why, hint := innermost(err), "is the server switched on, and this computer in its network?"
	switch {
	case errors.Is(err, errElsewhere):
		hint = "if it is right, give that address"
	case errors.Is(err, context.Canceled):
		why, hint = "broken off", ""
	case errors.As(err, &timeout) && timeout.Timeout():
		why = fmt.Sprintf("no whole answer within %g s", within.Seconds())
	case errors.As(err, &certificate) || errors.As(err, &authority):
		why, hint = "its certificate is not one that this computer trusts", "ask it by http in the boat's own network, or make its certificate known to this computer"
	case errors.As(err, &name):
		why = "there is no " + name.Name + " in this network"
	}
	return coded(exitUnreadable, hint, fmt.Errorf("asking %s: %s", u.Redacted(), why))
}

// innermost leaves out the question that the library repeats before the reason.
func innermost(err error) string {
	var asked *url.Error
	if errors.As(err, &asked) {
		return asked.Err.Error()
	}
	return err.Error()
}

// notGiven tells an answer that is none.
func notGiven(u *url.URL, answer *http.Response) error {
	hint := "look at the server"
	switch answer.StatusCode {
	case http.StatusUnauthorized, http.StatusForbidden:
		hint = "it wants a name and a password, which this program hands over to nobody: let it be read without, in the boat's own network"
	case http.StatusNotFound:
		hint = "the own vessel usually stands at http://HOST:PORT/signalk/v1/api/vessels/self"
	}
	return coded(exitUnreadable, hint, fmt.Errorf("asking %s: the server says %d %s", u.Redacted(), answer.StatusCode, http.StatusText(answer.StatusCode)))
}
