// Command pictures turns a captured terminal screen on stdin (text with SGR colours,
// as `tmux capture-pane -ep` gives it) into an SVG on stdout: one element a run of
// cells of one look, so that every cell stands where it stood.
//
//	tmux capture-pane -epN -t screen | go run ./testdata/pictures > ready.svg
package main

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// The size of a cell, of the letters in it, and of the frame around the screen.
const (
	cellWidth  = 8.4
	cellHeight = 18.0
	fontSize   = 14.0
	margin     = 12.0
)

// look is how a cell is drawn.
type look struct {
	colour              string
	bold, under, invert bool
}

const (
	paper = "#10141a"
	ink   = "#d7dde5"
)

// sixteen are the colours 0 to 15, chosen to be read on dark paper.
var sixteen = [16]string{
	"#10141a", "#e06c6c", "#7fc27f", "#d8b35a", "#74a9e0", "#c08ad0", "#69c0c0", "#d7dde5",
	"#7d8794", "#ff8c8c", "#9be09b", "#f0cf78", "#93c4ff", "#dba8ea", "#8adede", "#ffffff",
}

func main() {
	if err := draw(os.Stdin, os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "pictures:", err)
		os.Exit(1)
	}
}

func draw(in io.Reader, out io.Writer) error {
	var lines []string
	scanner := bufio.NewScanner(in)
	for scanner.Scan() {
		lines = append(lines, scanner.Text())
	}
	if err := scanner.Err(); err != nil {
		return fmt.Errorf("reading the screen: %w", err)
	}
	width := 80
	for _, line := range lines {
		width = max(width, ansi.StringWidth(line))
	}
	w := bufio.NewWriter(out)
	right, low := float64(width)*cellWidth+2*margin, float64(len(lines))*cellHeight+2*margin
	fmt.Fprintf(w, `<svg xmlns="http://www.w3.org/2000/svg" width="%.0f" height="%.0f" font-family="DejaVu Sans Mono,Menlo,Consolas,monospace" font-size="%.0f">`+"\n", right, low, fontSize)
	fmt.Fprintf(w, `<rect width="100%%" height="100%%" rx="6" fill="%s"/>`+"\n", paper)
	l := look{}
	for row, line := range lines {
		drawLine(w, &l, row, line)
	}
	fmt.Fprintln(w, "</svg>")
	return w.Flush()
}

func drawLine(w io.Writer, l *look, row int, line string) {
	column := 0
	for line != "" {
		at := strings.IndexByte(line, '\x1b')
		if at < 0 {
			at = len(line)
		}
		if run := line[:at]; run != "" {
			drawRun(w, *l, row, column, run)
			column += ansi.StringWidth(run)
		}
		line = l.escape(line[at:])
	}
}

// escape takes one escape sequence off the line and lets it change the look.
func (l *look) escape(line string) string {
	if !strings.HasPrefix(line, "\x1b[") {
		if line == "" {
			return ""
		}
		return line[1:]
	}
	end := strings.IndexFunc(line[2:], func(r rune) bool { return r >= '@' && r <= '~' })
	if end < 0 {
		return ""
	}
	if line[2+end] == 'm' {
		l.set(strings.Split(line[2:2+end], ";"))
	}
	return line[2+end+1:]
}

func (l *look) set(codes []string) {
	for i := 0; i < len(codes); i++ {
		n, _ := strconv.Atoi(codes[i])
		switch {
		case n == 0:
			*l = look{}
		case n == 1:
			l.bold = true
		case n == 4:
			l.under = true
		case n == 7:
			l.invert = true
		case n == 22:
			l.bold = false
		case n == 24:
			l.under = false
		case n == 27:
			l.invert = false
		case n >= 30 && n <= 37:
			l.colour = sixteen[n-30]
		case n >= 90 && n <= 97:
			l.colour = sixteen[n-90+8]
		case n == 39:
			l.colour = ""
		case n == 38 && i+2 < len(codes) && codes[i+1] == "5":
			l.colour = indexed(codes[i+2])
			i += 2
		case n == 38 && i+4 < len(codes) && codes[i+1] == "2":
			l.colour = fmt.Sprintf("rgb(%s,%s,%s)", codes[i+2], codes[i+3], codes[i+4])
			i += 4
		}
	}
}

// indexed is a colour of the table of 256: sixteen, a cube of six steps, greys.
func indexed(code string) string {
	n, _ := strconv.Atoi(code)
	step := func(v int) int {
		if v == 0 {
			return 0
		}
		return 55 + 40*v
	}
	switch {
	case n < 16:
		return sixteen[n]
	case n < 232:
		n -= 16
		return fmt.Sprintf("rgb(%d,%d,%d)", step(n/36), step(n/6%6), step(n%6))
	}
	grey := 8 + 10*(n-232)
	return fmt.Sprintf("rgb(%d,%d,%d)", grey, grey, grey)
}

func drawRun(w io.Writer, l look, row, column int, run string) {
	x, y := margin+float64(column)*cellWidth, margin+float64(row)*cellHeight
	length := float64(ansi.StringWidth(run)) * cellWidth
	colour := l.colour
	if colour == "" {
		colour = ink
	}
	if l.invert {
		fmt.Fprintf(w, `<rect x="%.1f" y="%.1f" width="%.1f" height="%.1f" fill="%s"/>`+"\n", x, y, length, cellHeight, colour)
		colour = paper
	}
	if strings.TrimSpace(run) == "" {
		return
	}
	extra := ""
	if l.bold {
		extra += ` font-weight="bold"`
	}
	if l.under {
		extra += ` text-decoration="underline"`
	}
	var text strings.Builder
	_ = xml.EscapeText(&text, []byte(run)) // a strings.Builder does not fail
	fmt.Fprintf(w, `<text x="%.1f" y="%.1f" textLength="%.1f" lengthAdjust="spacingAndGlyphs" xml:space="preserve" fill="%s"%s>%s</text>`+"\n",
		x, y+cellHeight*0.76, length, colour, extra, text.String())
}
