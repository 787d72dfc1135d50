// Package signalk reads values out of messages in the Signal K format: the full model, a
// single vessel out of it, and deltas, one or many.
//
// Source: Signal K Specification 1.7, Data Model and Delta Format, and the schemas of its
// groups (signalk.org). The paths and SI units are the schemas'; that a delta without a
// context is of the own vessel is from memory.
//
//	model, err := signalk.Read(text, signalk.Own{MMSI: "…"})
//	value, there := model.Values["tanks.freshWater.0.currentLevel"]
package signalk

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"
)

// What a message may be. Ours: far above what a vessel has to say.
const (
	MostBytes = 4 << 20
	mostDepth = 64
)

// Own is how the own vessel is known among others; what is empty is not known.
type Own struct {
	Self string // as the server names her: "urn:mrn:signalk:uuid:…", with or without "vessels."
	MMSI string // her nine figures
}

// Model is the latest of every value of the own vessel, by its path below her.
type Model struct {
	Values map[string]Value
}

// Useful are the paths that tell a number of a tank, an engine, a battery, the sea or her speed.
func (m Model) Useful() []string {
	paths := []string{}
	for path, v := range m.Values {
		if v.IsNumber && slices.ContainsFunc(useful, func(begin string) bool { return strings.HasPrefix(path, begin) }) {
			paths = append(paths, path)
		}
	}
	slices.Sort(paths)
	return paths
}

var useful = []string{"tanks.", "propulsion.", "electrical.batteries.", "environment.water.", "navigation.speedThroughWater"}

// Value is one value in the unit that the specification gives to its path.
type Value struct {
	Number   float64
	IsNumber bool
	IsNull   bool      // sent, and empty: the sensor has nothing to say
	At       time.Time // zero: no timestamp that can be read
	Unit     string    // as its meta data have it; "": not told
}

// Error is why a message is not taken, and what would help.
type Error struct{ Problem, Cure string }

func (e *Error) Error() string { return e.Problem }

// groups are what a vessel is known by. Source: the groups of the vessel schema.
var groups = []string{"tanks", "propulsion", "electrical", "navigation", "environment"}

const (
	askForHer = "ask the server for the own vessel alone: …/signalk/v1/api/vessels/self"
	urn       = "urn:mrn:"
	vessels   = "vessels."
)

// Read reads a message, or several one after the other, or in a list. The error is an *Error.
func Read(text []byte, own Own) (Model, error) {
	if len(text) > MostBytes {
		return Model{}, &Error{fmt.Sprintf("is larger than %d MB", MostBytes>>20), askForHer}
	}
	r := reader{model: Model{Values: map[string]Value{}}, own: own}
	r.own.Self = strings.TrimPrefix(own.Self, vessels)
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	for decoder := json.NewDecoder(bytes.NewReader(text)); ; {
		var message any
		err := decoder.Decode(&message)
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			at := decoder.InputOffset()
			if syntax, is := errors.AsType[*json.SyntaxError](err); is {
				at = syntax.Offset
			}
			line := 1 + bytes.Count(text[:min(int64(len(text)), at)], []byte("\n"))
			return Model{}, &Error{fmt.Sprintf("is no JSON that can be read, near line %d", line), "save the message again, whole"}
		}
		if err := r.take(message); err != nil {
			return Model{}, err
		}
	}
	switch {
	case r.taken > 0:
		return r.model, nil
	case len(r.others) > 0:
		return Model{}, &Error{"tells only of " + strings.Join(r.others, ", ") + ", and not which of them is the own vessel",
			`write self = "…" under [signalk] in boat.toml with her name from this list`}
	}
	return Model{}, &Error{"holds no Signal K values of a vessel", askForHer}
}

// reader goes through the messages in order.
type reader struct {
	model  Model
	own    Own
	taken  int      // messages of the own vessel
	others []string // vessels that are not known as the own one; a few
}

func (r *reader) take(message any) error {
	if list, is := message.([]any); is {
		for _, one := range list {
			if err := r.takeOne(one); err != nil {
				return err
			}
		}
		return nil
	}
	return r.takeOne(message)
}

func (r *reader) takeOne(message any) error {
	m, is := message.(map[string]any)
	if !is {
		return &Error{"is JSON, but no Signal K message", askForHer}
	}
	switch {
	case isList(m["updates"]):
		return r.delta(m)
	case isTable(m["vessels"]):
		r.introduced(m)
		return r.fleet(m["vessels"].(map[string]any))
	case isList(m["roles"]):
		r.introduced(m) // the hello of a stream
		return nil
	case isTable(m["endpoints"]):
		return &Error{"is a server's list of its addresses", "take the one called signalk-http, with vessels/self after it"}
	case hasURN(m):
		return r.fleet(m)
	case slices.ContainsFunc(groups, func(g string) bool { return isTable(m[g]) }):
		if mmsi, told := m["mmsi"].(string); told && r.own.MMSI != "" && mmsi != r.own.MMSI {
			return &Error{fmt.Sprintf("is of the vessel with the MMSI %q, and boat.toml has %q", cut(mmsi), cut(r.own.MMSI)),
				"take the message of the own vessel, or mend mmsi under [identity]"}
		}
		r.taken++
		return r.walk(m, nil)
	}
	return &Error{"is JSON, but no Signal K message", askForHer}
}

// introduced takes the own vessel's name where the message tells it.
func (r *reader) introduced(m map[string]any) {
	if self, told := m["self"].(string); told && r.own.Self == "" {
		r.own.Self = strings.TrimPrefix(self, vessels)
	}
}

// isOwn says whether a vessel of this name is the own one.
func (r *reader) isOwn(name string) bool {
	switch name {
	case "", "self":
		return true
	case r.own.Self:
		return true
	}
	return r.own.MMSI != "" && name == urn+"imo:mmsi:"+r.own.MMSI
}

func (r *reader) other(name string) {
	const most = 5
	if name = cut(name); len(r.others) < most && !slices.Contains(r.others, name) {
		r.others = append(r.others, name)
	}
}

// cut shortens what stood in a message.
func cut(text string) string {
	const most = 80
	if runes := []rune(text); len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return text
}

// fleet takes the own vessel out of the full model.
func (r *reader) fleet(all map[string]any) error {
	names := make([]string, 0, len(all))
	for name := range all {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		vessel, is := all[name].(map[string]any)
		switch {
		case !is:
		case r.isOwn(name):
			r.taken++
			if err := r.walk(vessel, nil); err != nil {
				return err
			}
		default:
			r.other(name)
		}
	}
	return nil
}

// delta takes the values of one delta message.
func (r *reader) delta(m map[string]any) error {
	context, _ := m["context"].(string)
	name, isVessel := strings.CutPrefix(context, vessels)
	if context != "" && (!isVessel || !r.isOwn(name)) {
		if isVessel {
			r.other(name)
		}
		return nil
	}
	r.taken++
	for _, update := range m["updates"].([]any) {
		u, is := update.(map[string]any)
		if !is {
			continue
		}
		at := moment(u["timestamp"])
		values, _ := u["values"].([]any)
		for _, one := range values {
			if v, is := one.(map[string]any); is {
				path, _ := v["path"].(string)
				content, there := v["value"]
				if path != "" && there {
					r.put(path, valueOf(content, at))
				}
			}
		}
	}
	return nil
}

// walk takes the values below a node of the full model: what has a value is one, and what lies
// below it (its sources, its meta data) belongs to it.
func (r *reader) walk(node map[string]any, path []string) error {
	if len(path) > mostDepth {
		return &Error{fmt.Sprintf("is nested deeper than %d", mostDepth), askForHer}
	}
	if content, is := node["value"]; is && len(path) > 0 {
		v := valueOf(content, moment(node["timestamp"]))
		if meta, is := node["meta"].(map[string]any); is {
			v.Unit, _ = meta["units"].(string)
		}
		r.put(strings.Join(path, "."), v)
		return nil
	}
	for name, below := range node {
		if b, is := below.(map[string]any); is && name != "meta" {
			if err := r.walk(b, append(path[:len(path):len(path)], name)); err != nil {
				return err
			}
		}
	}
	return nil
}

// put keeps the value, unless a later one is there.
func (r *reader) put(path string, v Value) {
	if before, there := r.model.Values[path]; there && before.At.After(v.At) {
		return
	}
	r.model.Values[path] = v
}

func valueOf(content any, at time.Time) Value {
	number, is := content.(float64)
	return Value{Number: number, IsNumber: is, IsNull: content == nil, At: at}
}

// moment is a timestamp; zero where it is none. The specification asks for RFC 3339 in UTC.
func moment(v any) time.Time {
	text, _ := v.(string)
	at, err := time.Parse(time.RFC3339, text)
	if err != nil {
		return time.Time{}
	}
	return at
}

func isList(v any) bool  { _, is := v.([]any); return is }
func isTable(v any) bool { _, is := v.(map[string]any); return is }

// hasURN says that the keys are names of vessels, as they stand under `vessels`.
func hasURN(m map[string]any) bool {
	for name := range m {
		if strings.HasPrefix(name, urn) {
			return true
		}
	}
	return false
}
