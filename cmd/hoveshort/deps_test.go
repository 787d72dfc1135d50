package main

import (
	_ "github.com/BurntSushi/toml"
	_ "github.com/charmbracelet/bubbles/help"
	_ "github.com/charmbracelet/bubbles/textinput"
	_ "github.com/charmbracelet/bubbletea"
	_ "github.com/charmbracelet/lipgloss"
	_ "github.com/charmbracelet/x/ansi"
	_ "github.com/charmbracelet/x/exp/golden"
	_ "github.com/creack/pty"
	_ "github.com/gofrs/flock"
	_ "github.com/muesli/termenv"
	_ "github.com/rogpeppe/go-internal/testscript"
	_ "github.com/spf13/cobra"
	_ "github.com/stretchr/testify/assert"
	_ "github.com/stretchr/testify/require"
	_ "golang.org/x/term"
	_ "pgregory.net/rapid"
)
