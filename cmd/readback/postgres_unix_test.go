//go:build unix

package main

import (
	"bytes"
	"os"
	"os/exec"
	"os/user"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"example.org/readback/testdata"
)

// A postgres is a database server of its own, on a socket in a directory of its
// own, gone after the test.
type postgres struct {
	t   *testing.T
	dir string
}

// startPostgres starts a server or skips, saying what is missing. The server does
// not run as root: a test run by root starts it as postgres or nobody.
func startPostgres(t *testing.T) *postgres {
	if !*testdata.Long {
		t.Skip("a PostgreSQL server is started with -long only")
	}
	t.Helper()
	programs := map[string]string{}
	for _, n := range []string{"initdb", "postgres", "psql"} {
		programs[n] = postgresTool(t, n)
	}
	dir, err := os.MkdirTemp("", "rb-pg-") // short: a socket's path has little room
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { os.RemoveAll(dir) })
	as := unprivileged(t, dir)
	data := filepath.Join(dir, "data")
	initdb := exec.Command(programs["initdb"], "-D", data, "-U", "readback", "-A", "trust", "-E", "UTF8", "--locale=C", "-N")
	initdb.SysProcAttr, initdb.Dir = as, dir
	if out, err := initdb.CombinedOutput(); err != nil {
		t.Fatalf("initdb: %v\n%s", err, out)
	}
	var log bytes.Buffer
	server := exec.Command(programs["postgres"], "-D", data, "-k", dir, "-c", "listen_addresses=", "-F")
	server.SysProcAttr, server.Dir, server.Stderr = as, dir, &log
	if err := server.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		server.Process.Signal(syscall.SIGQUIT)
		server.Wait()
	})
	p := &postgres{t: t, dir: dir}
	for range 200 {
		if _, err := p.psql("", "-c", "select 1"); err == nil {
			return p
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Fatalf("the server does not answer:\n%s", log.String())
	return nil
}

// postgresTool finds a program of PostgreSQL on the path or where Debian puts it.
func postgresTool(t *testing.T, name string) string {
	t.Helper()
	if path, err := exec.LookPath(name); err == nil {
		return path
	}
	if found, _ := filepath.Glob("/usr/lib/postgresql/*/bin/" + name); len(found) > 0 {
		return found[len(found)-1]
	}
	t.Skipf("PostgreSQL's %s is not installed: apt-get install postgresql", name)
	return ""
}

// unprivileged gives dir to a user who is not root where the test is.
func unprivileged(t *testing.T, dir string) *syscall.SysProcAttr {
	t.Helper()
	if os.Getuid() != 0 {
		return nil
	}
	for _, name := range []string{"postgres", "nobody"} {
		u, err := user.Lookup(name)
		if err != nil {
			continue
		}
		uid, _ := strconv.Atoi(u.Uid)
		gid, _ := strconv.Atoi(u.Gid)
		if err := os.Chown(dir, uid, gid); err != nil {
			t.Skipf("cannot give %s to %s: %v", dir, name, err)
		}
		return &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}}
	}
	t.Skip("PostgreSQL does not run as root, and there is no user postgres or nobody")
	return nil
}

// psql runs psql with what is given on its standard input.
func (p *postgres) psql(in string, args ...string) (string, error) {
	args = append([]string{"-h", p.dir, "-U", "readback", "-d", "postgres", "-X", "-q", "-A", "-t", "-v", "ON_ERROR_STOP=1"}, args...)
	cmd := exec.Command(postgresTool(p.t, "psql"), args...)
	cmd.Stdin = strings.NewReader(in)
	out, err := cmd.CombinedOutput()
	return string(out), err
}

// must is psql that may not fail.
func (p *postgres) must(in string, args ...string) string {
	p.t.Helper()
	out, err := p.psql(in, args...)
	if err != nil {
		p.t.Fatalf("psql %v: %v\n%s", args, err, out)
	}
	return strings.TrimSpace(out)
}
