package landxml

import "encoding/xml"

// The elements written, with the schema's names. Every attribute is a string so
// that an absent one is left out.

type units struct {
	XMLName xml.Name `xml:"Units"`
	Metric  metric   `xml:"Metric"`
}

type metric struct {
	Area        string `xml:"areaUnit,attr"`
	Linear      string `xml:"linearUnit,attr"`
	Volume      string `xml:"volumeUnit,attr"`
	Temperature string `xml:"temperatureUnit,attr"`
	Pressure    string `xml:"pressureUnit,attr"`
	Angular     string `xml:"angularUnit,attr"`
	Direction   string `xml:"directionUnit,attr"`
}

type project struct {
	XMLName xml.Name `xml:"Project"`
	Name    string   `xml:"name,attr"`
	Desc    string   `xml:"desc,attr,omitempty"`
}

type application struct {
	XMLName   xml.Name `xml:"Application"`
	Name      string   `xml:"name,attr"`
	Version   string   `xml:"version,attr,omitempty"`
	TimeStamp string   `xml:"timeStamp,attr"`
}

type cgPoints struct {
	XMLName xml.Name  `xml:"CgPoints"`
	Desc    string    `xml:"desc,attr,omitempty"`
	Points  []cgPoint `xml:"CgPoint"`
}

type cgPoint struct {
	Name string `xml:"name,attr"`
	Text string `xml:",chardata"` // north east [elevation], or nothing
}

type surveyHeader struct {
	XMLName   xml.Name    `xml:"SurveyHeader"`
	Name      string      `xml:"name,attr"`
	StartTime string      `xml:"startTime,attr,omitempty"`
	EndTime   string      `xml:"endTime,attr,omitempty"`
	Surveyor  string      `xml:"surveyor,attr,omitempty"`
	Type      string      `xml:"type,attr"`
	People    []personnel `xml:"Personnel"`
	Notes     []string    `xml:"FieldNote"`
}

type personnel struct {
	Name string `xml:"name,attr"`
	Role string `xml:"role,attr"`
}

type equipment struct {
	XMLName xml.Name          `xml:"Equipment"`
	Details instrumentDetails `xml:"InstrumentDetails"`
}

type instrumentDetails struct {
	ID          string      `xml:"id,attr"`
	Precision   string      `xml:"horizAnglePrecision,attr,omitempty"`
	Model       string      `xml:"model,attr,omitempty"`
	Serial      string      `xml:"serialNumber,attr,omitempty"`
	Corrections corrections `xml:"Corrections"`
	Notes       []string    `xml:"FieldNote"`
	Features    []feature   `xml:"Feature"`
}

// corrections is required, and may be empty.
type corrections struct{}

type instrumentSetup struct {
	XMLName   xml.Name   `xml:"InstrumentSetup"`
	ID        string     `xml:"id,attr"`
	Details   string     `xml:"instrumentDetailsID,attr"`
	Station   string     `xml:"stationName,attr"`
	Height    string     `xml:"instrumentHeight,attr"`
	Point     pointRef   `xml:"InstrumentPoint"`
	Backsight *backsight `xml:"Backsight"`
	Groups    []group    `xml:"ObservationGroup"`
	Notes     []string   `xml:"FieldNote"`
	Features  []feature  `xml:"Feature"`
}

type pointRef struct {
	Ref string `xml:"pntRef,attr"`
}

type backsight struct {
	Circle string   `xml:"circle,attr"`
	Point  pointRef `xml:"BacksightPoint"`
}

type group struct {
	ID        string               `xml:"id,attr"`
	Purpose   string               `xml:"purpose,attr,omitempty"`
	SetupID   string               `xml:"setupID,attr"`
	SetID     string               `xml:"setID,attr,omitempty"`
	Backsight *backsight           `xml:"Backsight"`
	Raw       []rawObservation     `xml:"RawObservation"`
	Reduced   []reducedObservation `xml:"ReducedObservation"`
	Notes     []string             `xml:"FieldNote"`
}

type rawObservation struct {
	SetID        string    `xml:"setID,attr,omitempty"`
	TargetHeight string    `xml:"targetHeight,attr,omitempty"`
	Horiz        string    `xml:"horizAngle,attr,omitempty"`
	Slope        string    `xml:"slopeDistance,attr,omitempty"`
	Zenith       string    `xml:"zenithAngle,attr,omitempty"`
	Unused       string    `xml:"unused,attr,omitempty"`
	DirectFace   string    `xml:"directFace,attr,omitempty"`
	TimeStamp    string    `xml:"timeStamp,attr,omitempty"`
	CircleSet    string    `xml:"circlePositionSet,attr,omitempty"`
	Status       string    `xml:"status,attr,omitempty"`
	Target       pointRef  `xml:"TargetPoint"`
	Notes        []string  `xml:"FieldNote"`
	Features     []feature `xml:"Feature"`
}

type reducedObservation struct {
	Name          string   `xml:"name,attr"`
	TargetHeight  string   `xml:"targetHeight,attr,omitempty"`
	HorizDistance string   `xml:"horizDistance,attr,omitempty"`
	VertDistance  string   `xml:"vertDistance,attr,omitempty"`
	Horiz         string   `xml:"horizAngle,attr,omitempty"`
	Slope         string   `xml:"slopeDistance,attr,omitempty"`
	Zenith        string   `xml:"zenithAngle,attr,omitempty"`
	DistAccuracy  string   `xml:"distanceAccuracy,attr,omitempty"`
	AngleAccuracy string   `xml:"angleAccuracy,attr,omitempty"`
	Target        pointRef `xml:"TargetPoint"`
}

type feature struct {
	Name       string     `xml:"name,attr"`
	Properties []property `xml:"Property"`
}

type property struct {
	Label string `xml:"label,attr"`
	Value string `xml:"value,attr"`
}
