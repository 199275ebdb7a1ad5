package main

import "github.com/alecthomas/kong"

// CLI lists the commands. One file holds each of them.
type CLI struct {
	Version kong.VersionFlag `help:"Print the version."`

	Book       BookCmd       `cmd:"" default:"withargs" help:"Open a book and book readings. The default."`
	Demo       DemoCmd       `cmd:"" help:"Try it on a throw-away book with a station half booked."`
	Drill      DrillCmd      `cmd:"" help:"Learn on a simulated observer, and be scored."`
	Audit      AuditCmd      `cmd:"" help:"Check every event of a book and list what was struck, confirmed or left out."`
	Restore    RestoreCmd    `cmd:"" help:"Build a book from its journal."`
	Reduce     ReduceCmd     `cmd:"" help:"Work a file of readings and print the reductions."`
	Sheet      SheetCmd      `cmd:"" help:"Print setups as field-book pages to sign."`
	Gather     GatherCmd     `cmd:"" help:"Bring several books into one office book."`
	Fieldtest  FieldtestCmd  `cmd:"" help:"Work setups as the field test of ISO 17123-3."`
	Health     HealthCmd     `cmd:"" help:"Follow the errors of each instrument over the setups."`
	Known      KnownCmd      `cmd:"" help:"Load known stations and bearings into a book."`
	Levels     LevelsCmd     `cmd:"" help:"Load levelled differences of height into a book."`
	Centre     CentreCmd     `cmd:"" help:"Note that an instrument or a target stood beside its mark."`
	Limits     LimitsCmd     `cmd:"" help:"Set limits, standard deviations and plausible lengths in a book, or list them."`
	Describe   DescribeCmd   `cmd:"" help:"Say what a book is for: job, client, place."`
	Plan       PlanCmd       `cmd:"" help:"Load the office's plan of setups into a book, or list what of it is done."`
	Season     SeasonCmd     `cmd:"" help:"Show a season at a glance: stations, verdicts, closures, crews behind."`
	Figure     FigureCmd     `cmd:"" help:"Work the rings and traverses that the setups make."`
	Export     ExportCmd     `cmd:"" help:"Write readings, directions, reductions, events or LandXML."`
	Import     ImportCmd     `cmd:"" help:"Book a readings file that was kept on paper."`
	Help       HelpCmd       `cmd:"" help:"Explain a command or a topic; without one list them."`
	Completion CompletionCmd `cmd:"" help:"Print completions for bash, zsh or fish."`
	Man        ManCmd        `cmd:"" help:"Print the manual page."`
}
