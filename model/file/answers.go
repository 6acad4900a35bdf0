package file

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
)

// answersFile is the file, in the folder of the recovery copies, of a survey that no build
// has taken over yet.
const answersFile = "survey.txt"

// KeepAnswers keeps the answers of a survey in the folder of the recovery copies, a line
// each, whole or not at all; without answers it removes what was kept.
func KeepAnswers(folder string, answers []string) error {
	path := filepath.Join(folder, answersFile)
	if len(answers) == 0 {
		if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) {
			return fmt.Errorf("the answers of a former survey cannot be removed: %w", err)
		}
		return nil
	}
	err := os.MkdirAll(folder, 0o700)
	if err == nil {
		var b beside
		if b, err = writeBeside(path, strings.Join(answers, "\n")+"\n", nil, 0o600); err == nil {
			err = moveOver(b.name, path)
		}
	}
	if err != nil {
		return fmt.Errorf("the answers of the survey cannot be kept (%w): see that %s is a folder with room that you may write in", plain(err), folder)
	}
	return nil
}

// Answers are those that were kept in a folder; nil where none were, or they cannot be read.
func Answers(folder string) []string {
	const most = 1 << 16
	content, _, err := readBounded(filepath.Join(folder, answersFile), most)
	if err != nil {
		return nil
	}
	return strings.Split(strings.TrimSuffix(string(content), "\n"), "\n")
}
