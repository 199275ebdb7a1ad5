package main

import (
	"bufio"
	bits "encoding/binary"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/creack/pty"
	"golang.org/x/sys/unix"
	"golang.org/x/term"

	"example.org/readback/testdata"
)

// The program in xterm itself, not in the emulator of the other tests, and in GNU screen
// inside of it: a reading is keyed, and the picture is looked at. The tall figures stand
// out by the contrast that the themes want (WCAG 2.1; bold black is grey on xterm, 4.0:1),
// what is ready is on its ground, and every cell is painted to the last column.
func TestXterm_FiguresAndLastColumn(t *testing.T) {
	for _, name := range []string{"Xvfb", "xterm", "screen"} {
		if _, err := exec.LookPath(name); err != nil {
			t.Skipf("%v: apt-get install xvfb xterm screen fonts-dejavu-core", err)
		}
	}
	file := filepath.Join(t.TempDir(), "weir.book")
	b := bookerAt(open(t, 80, 24, "book", file)).firstSetup().books("00510")
	b.quits()
	x := newXserver(t)
	for n, as := range []struct {
		name, term string
		within     []string // a terminal within the terminal
	}{
		{name: "xterm", term: "xterm"},
		{name: "xterm-16color", term: "xterm-16color"},
		{name: "xterm-256color", term: "xterm-256color"},
		{name: "screen", term: "xterm", within: []string{"screen", "-c", "/dev/null", "-q"}},
	} {
		if !testdata.OneOf(4, n) {
			continue
		}
		t.Run(as.name, func(t *testing.T) {
			w := x.window(t, 80, 24)
			cmd := command(t, w.dir, []string{"TERM=" + as.term, "SCREENDIR=" + w.dir}, "book", file)
			if len(as.within) > 0 {
				path, _ := exec.LookPath(as.within[0])
				cmd.Args, cmd.Path = append(as.within, cmd.Args...), path
				t.Cleanup(func() { // it outlives its window
					quit := exec.Command(path, "-X", "quit")
					quit.Env = cmd.Env
					if said, err := quit.CombinedOutput(); err != nil {
						t.Errorf("screen goes on: %v: %s", err, said)
					}
				})
			}
			w.start(cmd)
			w.until("an empty entry on painted ground", func(p picture) bool {
				return p.unpainted() == 0 && p.flag() == p.rgb(79, 0) // a quiet flag has the ground of the bar
			})
			w.key("451020")
			// A picture may be taken while a row is drawn: what stays wrong is wrong.
			w.until("what is ready on its ground, figures of contrast 10, and every cell painted", func(p picture) bool {
				f, last := p.flag(), true
				ground, figures := p.figures()
				for y := 1; y < p.rows; y++ {
					last = last && p.rgb(79, y) == ground
				}
				return f.g > 0xf0 && f.r < 0xf0 && f.b < 0xf0 && contrast(ground, figures) >= 10 && last && p.unpainted() == 0
			})
		})
	}
}

// bare is what xterm shows where nothing is painted; no theme has it.
var bare = rgb{0x12, 0xfe, 0x56}

// an xserver is a display in memory whose pixels lie in a file. Its pointer stands in the
// middle, beside the window.
type xserver struct{ display, pixels string }

func newXserver(t *testing.T) xserver {
	t.Helper()
	dir := t.TempDir()
	r, w, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", "1600x1000x24", "-fbdir", dir, "-nolisten", "tcp")
	cmd.ExtraFiles = []*os.File{w}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { cmd.Process.Kill(); cmd.Wait() })
	w.Close()
	r.SetReadDeadline(time.Now().Add(patience))
	number, err := bufio.NewReader(r).ReadString('\n')
	if err != nil {
		t.Fatal("Xvfb does not start:", err)
	}
	return xserver{":" + strings.TrimSpace(number), filepath.Join(dir, "Xvfb_screen0")}
}

// an xwindow is an xterm on a pseudo-terminal of the test: what the test writes to the
// master is keyed, what the program writes xterm draws.
type xwindow struct {
	t             *testing.T
	x             xserver
	dir           string
	master, slave *os.File
	cols, rows    int
	wide, high    int // of the window, in pixels
}

func (x xserver) window(t *testing.T, cols, rows int) *xwindow {
	t.Helper()
	master, slave, err := pty.Open()
	if err != nil {
		t.Fatal(err)
	}
	w := &xwindow{t: t, x: x, dir: t.TempDir(), master: master, slave: slave, cols: cols, rows: rows}
	os.Chmod(w.dir, 0o700)
	if _, err := term.MakeRaw(int(slave.Fd())); err != nil {
		t.Fatal(err)
	}
	pty.Setsize(master, &pty.Winsize{Cols: uint16(cols), Rows: uint16(rows)})
	cmd := exec.Command("xterm", "-S"+slave.Name()+"/3", "-geometry", fmt.Sprintf("%dx%d+0+0", cols, rows), "-b", "0", "-bw", "0", "+sb",
		"-bg", bare.String(), "-fa", "DejaVu Sans Mono:pixelsize=14", "-xrm", "*allowWindowOps: true")
	cmd.Env = append(os.Environ(), "DISPLAY="+x.display, "HOME="+w.dir, "LC_ALL=C.UTF-8")
	cmd.ExtraFiles = []*os.File{master}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { cmd.Process.Kill(); cmd.Wait(); master.Close(); slave.Close() })
	w.answer('\n') // its number, which would be keyed
	fmt.Fprint(slave, "\x1b[14t")
	size := strings.Split(strings.TrimSuffix(w.answer('t'), "t"), ";")
	if len(size) == 3 {
		w.high, _ = strconv.Atoi(size[1])
		w.wide, _ = strconv.Atoi(size[2])
	}
	if w.wide < cols || w.high < rows {
		t.Fatalf("xterm says its size is %q", size)
	}
	return w
}

// answer reads what xterm says up to a character.
func (w *xwindow) answer(end byte) string {
	w.t.Helper()
	said := make(chan string, 1)
	go func() {
		var all []byte
		for b := make([]byte, 1); ; all = append(all, b[0]) {
			if _, err := w.slave.Read(b); err != nil || b[0] == end {
				said <- string(all)
				return
			}
		}
	}()
	select {
	case s := <-said:
		return s
	case <-time.After(patience):
		w.t.Fatal("xterm does not answer")
	}
	return ""
}

// start runs a program in the window until the test ends.
func (w *xwindow) start(cmd *exec.Cmd) {
	w.t.Helper()
	cmd.Stdin, cmd.Stdout, cmd.Stderr = w.slave, w.slave, w.slave
	cmd.SysProcAttr = &unix.SysProcAttr{Setsid: true, Setctty: true}
	if err := cmd.Start(); err != nil {
		w.t.Fatal(err)
	}
	w.t.Cleanup(func() { cmd.Process.Signal(unix.SIGHUP); cmd.Wait() })
}

func (w *xwindow) key(s string) {
	w.t.Helper()
	if _, err := w.master.WriteString(s); err != nil {
		w.t.Fatal(err)
	}
}

// until waits for a picture.
func (w *xwindow) until(what string, ok func(picture) bool) picture {
	w.t.Helper()
	for end := time.Now().Add(patience); ; time.Sleep(10 * time.Millisecond) {
		p := w.picture()
		if ok(p) {
			return p
		}
		if time.Now().After(end) {
			ground, figures := p.figures()
			w.t.Fatalf("the picture does not show %s: %d pixels not painted, flag %v, bar %v, figures %v on %v (%.1f : 1)",
				what, p.unpainted(), p.flag(), p.rgb(79, 0), figures, ground, contrast(ground, figures))
		}
	}
}

type rgb struct{ r, g, b byte }

func (c rgb) String() string { return fmt.Sprintf("#%02x%02x%02x", c.r, c.g, c.b) }

// contrast is that of WCAG 2.1: relative luminances with the curve of sRGB, 0.05 added.
func contrast(a, b rgb) float64 {
	light := func(c rgb) (l float64) {
		for i, v := range []byte{c.r, c.g, c.b} {
			x := float64(v) / 255
			if x <= 0.04045 {
				x /= 12.92
			} else {
				x = math.Pow((x+0.055)/1.055, 2.4)
			}
			l += x * []float64{0.2126, 0.7152, 0.0722}[i]
		}
		return l
	}
	la, lb := light(a), light(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

// a picture is the window as it is now.
type picture struct {
	w          *xwindow
	cols, rows int
	line       int    // bytes a row of pixels
	pixels     []byte // blue, green, red, nothing
}

// picture reads the pixels: a file of the X Window Dump format, version 7 (the header of
// XWDFile.h: 25 numbers of 32 bits, most significant byte first, then the window's name
// and 12 bytes a colour).
func (w *xwindow) picture() picture {
	w.t.Helper()
	b, err := os.ReadFile(w.x.pixels)
	if err != nil || len(b) < 100 {
		w.t.Fatal("no picture: ", err)
	}
	number := func(i int) int { return int(bits.BigEndian.Uint32(b[4*i:])) }
	if number(1) != 7 || number(7) != 0 || number(11) != 32 {
		w.t.Fatalf("the picture is of version %d, byte order %d, %d bits a pixel", number(1), number(7), number(11))
	}
	return picture{w, w.cols, w.rows, number(12), b[number(0)+12*number(19):]}
}

func (p picture) at(x, y int) rgb {
	i := y*p.line + 4*x
	return rgb{p.pixels[i+2], p.pixels[i+1], p.pixels[i]}
}

// rgb is the ground of a cell: the pixel in its upper right corner.
func (p picture) rgb(col, row int) rgb {
	return p.at((col+1)*p.w.wide/p.cols-1, row*p.w.high/p.rows)
}

// flag is the ground of the state under the figures.
func (p picture) flag() rgb { return p.rgb(0, 12) }

// figures are the two colours that the rows of the tall figures have most of.
func (p picture) figures() (ground, figure rgb) {
	n := map[rgb]int{}
	for y := 8 * p.w.high / p.rows; y < 11*p.w.high/p.rows; y++ {
		for x := 0; x < 45*p.w.wide/p.cols; x++ {
			n[p.at(x, y)]++
		}
	}
	for c, k := range n {
		if k > n[ground] {
			ground = c
		}
	}
	for c, k := range n {
		if c != ground && k > n[figure] {
			figure = c
		}
	}
	return ground, figure
}

// unpainted counts the pixels of the window that nothing was drawn on.
func (p picture) unpainted() (n int) {
	for y := range p.w.high {
		for x := range p.w.wide {
			if p.at(x, y) == bare {
				n++
			}
		}
	}
	return n
}
