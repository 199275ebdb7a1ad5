package landxml

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"time"
)

// faultIn finds what the schema lets pass: identities referred to that are not
// there, numbers that are none, angles of 60 minutes or seconds, missing units,
// a point named twice, a pntRef that names no point, times without a zone. It
// returns the first fault.
func faultIn(doc string) error {
	c := &checker{ids: map[string]bool{}, points: map[string]bool{}}
	dec := xml.NewDecoder(strings.NewReader(doc))
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return err
		}
		if e, ok := tok.(xml.StartElement); ok {
			if e.Name.Space != namespace {
				return fmt.Errorf("<%s> is outside the namespace", e.Name.Local)
			}
			if err := c.element(e); err != nil {
				return err
			}
		}
	}
	return c.finish()
}

type checker struct {
	ids, points    map[string]bool
	idRefs, pnRefs []string
	angular        string
}

var (
	angles  = map[string]bool{"horizAngle": true, "zenithAngle": true, "circle": true, "angleAccuracy": true, "horizAnglePrecision": true}
	numbers = map[string]bool{"instrumentHeight": true, "targetHeight": true, "slopeDistance": true, "horizDistance": true, "vertDistance": true}
	ddmmss  = regexp.MustCompile(`^\d+(\.\d\d(\d\d\d*)?)?$`)
)

func (c *checker) element(e xml.StartElement) error {
	for _, a := range e.Attr {
		name, v := a.Name.Local, a.Value
		var err error
		switch {
		case name == "angularUnit":
			c.angular = v
		case name == "id":
			if c.ids[v] {
				err = fmt.Errorf("identity %s twice", v)
			}
			c.ids[v] = true
		case strings.HasSuffix(name, "ID"):
			if name != "setID" {
				c.idRefs = append(c.idRefs, v)
			}
		case name == "pntRef":
			c.pnRefs = append(c.pnRefs, v)
		case name == "name" && e.Name.Local == "CgPoint":
			if c.points[v] {
				err = fmt.Errorf("point %s twice", v)
			}
			c.points[v] = true
		case angles[name]:
			err = c.angle(v)
		case numbers[name]:
			err = finite(v)
		case name == "timeStamp" || name == "startTime" || name == "endTime":
			_, err = time.Parse(time.RFC3339, v)
		case name == "time":
			_, err = time.Parse("15:04:05Z07:00", v)
		}
		if err != nil {
			return fmt.Errorf("<%s> %s: %w", e.Name.Local, name, err)
		}
	}
	return nil
}

func (c *checker) angle(v string) error {
	if err := finite(v); err != nil || c.angular != "decimal dd.mm.ss" {
		return err
	}
	if !ddmmss.MatchString(v) {
		return fmt.Errorf("%s is not dd.mm.ss", v)
	}
	_, frac, _ := strings.Cut(v, ".")
	frac += "0000"
	if frac[:2] >= "60" || frac[2:4] >= "60" {
		return fmt.Errorf("%s has 60 minutes or seconds", v)
	}
	return nil
}

func finite(v string) error {
	x, err := strconv.ParseFloat(v, 64)
	if err == nil && (math.IsNaN(x) || math.IsInf(x, 0)) {
		err = fmt.Errorf("%s is no number", v)
	}
	return err
}

func (c *checker) finish() error {
	if c.angular == "" || c.angular == "radians" {
		return errors.New("no unit of angles")
	}
	for _, r := range c.idRefs {
		if !c.ids[r] {
			return fmt.Errorf("identity %s is referred to and is not there", r)
		}
	}
	for _, r := range c.pnRefs {
		if !c.points[r] {
			return fmt.Errorf("point %s is referred to and is not there", r)
		}
	}
	return nil
}
