package usage

import (
	"fmt"
	"io"
	"strings"

	"github.com/alecthomas/kong"
)

// shells are those that completions are written for.
var shells = []string{"bash", "zsh", "fish"}

// Completion writes the completions of a shell, made from the commands as they are.
func Completion(w io.Writer, app *kong.Application, shell string) error {
	var b strings.Builder
	switch shell {
	case "bash":
		bash(&b, app)
	case "zsh":
		zsh(&b, app)
	case "fish":
		fish(&b, app)
	default:
		return fmt.Errorf("there are completions for %s, not for %s", strings.Join(shells, ", "), shell)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// flagsOf lists what may be typed behind a command.
func flagsOf(n *kong.Node) []*kong.Flag {
	var list []*kong.Flag
	for _, group := range n.AllFlags(true) {
		list = append(list, group...)
	}
	return list
}

// words are the values that a flag takes, where they are fixed.
func words(f *kong.Flag) []string {
	var list []string
	for _, v := range f.EnumSlice() {
		if v != "" {
			list = append(list, v)
		}
	}
	return list
}

func commandsOf(app *kong.Application) []*kong.Node {
	return append([]*kong.Node(nil), app.Leaves(true)...)
}

func bash(b *strings.Builder, app *kong.Application) {
	fmt.Fprintf(b, "# completions of readback for bash\n_readback() {\n\tlocal cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} cmd=${COMP_WORDS[1]} words=\n")
	var names []string
	for _, c := range commandsOf(app) {
		names = append(names, c.Name)
	}
	fmt.Fprintf(b, "\tif [ \"$COMP_CWORD\" -eq 1 ]; then\n\t\tCOMPREPLY=($(compgen -W %q -- \"$cur\") $(compgen -f -- \"$cur\"))\n\t\treturn\n\tfi\n", strings.Join(names, " ")+" --help --version")
	b.WriteString("\tcase \"$cmd $prev\" in\n")
	for _, c := range commandsOf(app) {
		for _, f := range flagsOf(c) {
			if ws := words(f); len(ws) > 0 {
				fmt.Fprintf(b, "\t%q) words=%q ;;\n", c.Name+" --"+f.Name, strings.Join(ws, " "))
			}
		}
	}
	b.WriteString("\tesac\n\tif [ -z \"$words\" ]; then\n\t\tcase \"$cmd\" in\n")
	for _, c := range commandsOf(app) {
		var fs []string
		for _, f := range flagsOf(c) {
			fs = append(fs, "--"+f.Name)
		}
		fmt.Fprintf(b, "\t\t%s) [[ $cur == -* ]] && words=%q ;;\n", c.Name, strings.Join(fs, " "))
	}
	b.WriteString("\t\tesac\n\tfi\n\tif [ -n \"$words\" ]; then\n\t\tCOMPREPLY=($(compgen -W \"$words\" -- \"$cur\"))\n\telse\n\t\tCOMPREPLY=($(compgen -f -- \"$cur\"))\n\tfi\n}\ncomplete -o filenames -F _readback readback\n")
}

func zsh(b *strings.Builder, app *kong.Application) {
	clean := strings.NewReplacer("'", "", "[", "(", "]", ")", ":", ",", "`", "").Replace
	b.WriteString("#compdef readback\n# completions of readback for zsh\n_readback() {\n\tlocal -a commands\n\tcommands=(\n")
	for _, c := range commandsOf(app) {
		fmt.Fprintf(b, "\t\t'%s:%s'\n", c.Name, clean(c.Help))
	}
	b.WriteString("\t)\n\tif (( CURRENT == 2 )); then\n\t\t_describe command commands\n\t\t_files\n\t\treturn\n\tfi\n\tcase $words[2] in\n")
	for _, c := range commandsOf(app) {
		fmt.Fprintf(b, "\t%s)\n\t\t_arguments -S", c.Name)
		for _, f := range flagsOf(c) {
			value := ""
			switch ws := words(f); {
			case len(ws) > 0:
				value = ":" + f.Name + ":(" + strings.Join(ws, " ") + ")"
			case !f.IsBool():
				value = ":" + f.Name + ":_files"
			}
			fmt.Fprintf(b, " \\\n\t\t\t'--%s[%s]%s'", f.Name, clean(f.Help), value)
		}
		b.WriteString(" \\\n\t\t\t'*:file:_files' ;;\n")
	}
	b.WriteString("\tesac\n}\ncompdef _readback readback\n")
}

func fish(b *strings.Builder, app *kong.Application) {
	clean := strings.NewReplacer("'", "", "\\", "").Replace
	b.WriteString("# completions of readback for fish\n")
	for _, c := range commandsOf(app) {
		fmt.Fprintf(b, "complete -c readback -n __fish_use_subcommand -a %s -d '%s'\n", c.Name, clean(c.Help))
		for _, f := range flagsOf(c) {
			fmt.Fprintf(b, "complete -c readback -n '__fish_seen_subcommand_from %s' -l %s -d '%s'", c.Name, f.Name, clean(f.Help))
			if f.Short != 0 {
				fmt.Fprintf(b, " -s %c", f.Short)
			}
			switch ws := words(f); {
			case len(ws) > 0:
				fmt.Fprintf(b, " -x -a '%s'", strings.Join(ws, " "))
			case !f.IsBool():
				b.WriteString(" -r")
			}
			b.WriteString("\n")
		}
	}
}
