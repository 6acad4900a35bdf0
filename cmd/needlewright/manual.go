//go:build manual

package main

import (
	"bytes"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"github.com/spf13/cobra/doc"
)

// Built so, the program has a command more, which writes its manual pages: for whoever
// packs it. Nobody else has to carry what that takes.
func init() { packing = append(packing, manualCommand()) }

// manualCommand writes manual pages.
func manualCommand() *cobra.Command {
	var folder string
	c := &cobra.Command{
		Use:   "manual -o FOLDER",
		Short: "Write a manual page of each command",
		Long:  "Write a manual page of each command into FOLDER, which is made where it is not there yet.\nPages that are there are replaced. The same program writes the same bytes.",
		Args:  cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if folder == "" {
				return &failure{errors.New("manual writes into a folder, and none is named"), "write  needlewright manual -o FOLDER"}
			}
			root := c.Root()
			root.RemoveCommand(c)
			if err := writeManual(root, folder); err != nil {
				return &failure{err, "choose another folder with -o"}
			}
			return nil
		},
	}
	c.Flags().StringVarP(&folder, "output", "o", "", "the folder to write into")
	_ = c.MarkFlagDirname("output")
	return c
}

// writeManual writes the page of a command and of those below it.
func writeManual(c *cobra.Command, folder string) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	for _, sub := range c.Commands() {
		if !sub.IsAvailableCommand() {
			continue
		}
		if err := writeManual(sub, folder); err != nil {
			return err
		}
	}
	page, err := manualPage(c)
	if err != nil {
		return err
	}
	name := strings.ReplaceAll(c.CommandPath(), " ", "-") + ".1"
	return os.WriteFile(filepath.Join(folder, name), page, 0o644)
}

// manualPage is the page of a command, of no day.
func manualPage(c *cobra.Command) ([]byte, error) {
	var page bytes.Buffer
	c.DisableAutoGenTag = true
	err := doc.GenMan(c, &doc.GenManHeader{Date: new(time.Time), Source: "needlewright", Manual: "needlewright"}, &page)
	return bytes.Replace(page.Bytes(), []byte(new(time.Time).Format("Jan 2006")), nil, 1), err
}
