package main

import "example.org/readback/cmd/internal/usage"

// CompletionCmd prints completions for a shell.
type CompletionCmd struct {
	Shell string `arg:"" help:"bash, zsh or fish." enum:"bash,zsh,fish"`
}

// Help shows how it is called.
func (CompletionCmd) Help() string {
	return `Examples:
  readback completion bash > ~/.local/share/bash-completion/completions/readback
  readback completion fish > ~/.config/fish/completions/readback.fish`
}

// Run prints them.
func (x CompletionCmd) Run(c *Context) error { return usage.Completion(c.Out, c.app, x.Shell) }
