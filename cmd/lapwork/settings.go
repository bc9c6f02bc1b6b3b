package main

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/viper"

	"lapwork/content"
	"lapwork/generator"
	"lapwork/generator/jobfile"
	"lapwork/templates"
	"lapwork/themes"
)

// settings reads a command's settings: flags > LAPWORK_* > the commands block of firm.yaml > defaults.
func settings(cmd *cobra.Command, firmDir string) (*viper.Viper, error) {
	v := viper.New()
	v.SetEnvPrefix("LAPWORK")
	v.SetEnvKeyReplacer(strings.NewReplacer("-", "_"))
	v.AutomaticEnv()
	if err := v.BindPFlags(cmd.Flags()); err != nil {
		return nil, err
	}
	if err := yesNoOnly(cmd, v); err != nil || firmDir == "" {
		return v, err
	}
	known, err := flagsOf(cmd.Root())
	if err != nil {
		return v, err
	}
	ofFirm := map[string]any{}
	for _, c := range jobfile.Commands(openFolder(firmDir)) {
		ofFirm[c.Flag] = c.Value
		if known[c.Flag] {
			ofFirm[c.Flag] = c.Value == "yes" || c.Value == "true"
		}
	}
	return v, v.MergeConfigMap(ofFirm)
}

// yesNoOnly refuses LAPWORK_STRICT=on and its like, which would count as no.
func yesNoOnly(cmd *cobra.Command, v *viper.Viper) (err error) {
	for _, flag := range slices.Sorted(slices.Values(v.AllKeys())) {
		f := cmd.Flags().Lookup(flag)
		name := "LAPWORK_" + strings.ToUpper(strings.ReplaceAll(flag, "-", "_"))
		value := os.Getenv(name)
		if _, wrong := strconv.ParseBool(value); f.Value.Type() == "bool" && value != "" && wrong != nil {
			err = errors.Join(err, fmt.Errorf("%s is %q\n\thint: write true or false", name, value))
		}
	}
	return err
}

// flagsOf are the flags of a command and of all below it; true: yes or no.
func flagsOf(cmd *cobra.Command) (map[string]bool, error) {
	names := viper.New() // tells the names of flags
	if err := errors.Join(names.BindPFlags(cmd.PersistentFlags()), names.BindPFlags(cmd.Flags())); err != nil {
		return nil, err
	}
	out := map[string]bool{}
	for _, name := range names.AllKeys() {
		out[name] = cmd.Flag(name).Value.Type() == "bool"
	}
	for _, sub := range cmd.Commands() {
		below, err := flagsOf(sub)
		if err != nil {
			return nil, err
		}
		maps.Copy(out, below)
	}
	return out, nil
}

// sources finds the folders a command reads: the job named in args or the embedded demo, and the firm's folder.
func sources(cmd *cobra.Command, args []string) (generator.Sources, *viper.Viper, error) {
	flags, err := flagsOf(cmd.Root())
	if err != nil {
		return generator.Sources{}, nil, err
	}
	src := generator.Sources{Content: content.FS, Templates: templates.FS, Theme: themes.FS, Flags: flags}
	var firmDir string
	if len(args) == 0 {
		demo, err := fs.Sub(content.FS, "demo")
		if err != nil {
			return src, nil, err
		}
		src.Job, src.JobName = demo, "demo"
		src.Firm, src.FirmName, src.FirmInJob = demo, "demo", true
	} else {
		dir, err := jobFolder(args[0])
		if err != nil {
			return src, nil, err
		}
		src.Job, src.JobName, src.JobDir = openFolder(dir), filepath.ToSlash(dir), dir
		firmDir, err = firmFolder(cmd, dir)
		if err != nil {
			return src, nil, err
		}
		src.FirmInJob = firmDir == dir
	}
	if flag, err := cmd.Flags().GetString("firm"); err == nil && flag != "" {
		firmDir, src.FirmInJob = flag, false
	}
	if firmDir != "" {
		src.Firm, src.FirmName = openFolder(firmDir), filepath.ToSlash(firmDir)
	}
	v, err := settings(cmd, firmDir)
	return src, v, err
}

// jobFolder gives the folder of a job named by its folder or by its job.yaml.
func jobFolder(arg string) (string, error) {
	if filepath.Base(arg) == "job.yaml" {
		arg = filepath.Dir(arg)
	}
	if _, err := os.Stat(filepath.Join(arg, "job.yaml")); err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return "", fmt.Errorf("%s holds no job.yaml\n\thint: name the job's folder, or make one with: lapwork start %s", arg, arg)
		}
		return "", err
	}
	return arg, nil
}

// firmFolder looks for firm.yaml where the flag or the environment says, then in the job, then beside it.
func firmFolder(cmd *cobra.Command, job string) (string, error) {
	v, err := settings(cmd, "")
	if err != nil {
		return "", err
	}
	if dir := v.GetString("firm"); dir != "" {
		if _, err := os.Stat(filepath.Join(dir, "firm.yaml")); err != nil {
			return "", fmt.Errorf("%s holds no firm.yaml\n\thint: correct --firm or LAPWORK_FIRM", dir)
		}
		return dir, nil
	}
	for _, dir := range []string{filepath.Join(job, "firm"), job, filepath.Join(job, "..", "firm")} {
		if _, err := os.Stat(filepath.Join(dir, "firm.yaml")); err == nil {
			return dir, nil
		}
	}
	for _, dir := range []string{filepath.Join(job, "firm"), filepath.Join(job, "..", "firm")} {
		for _, part := range []string{"library", "tables", "libraries", "theme", "pages", "lang"} {
			if info, err := os.Stat(filepath.Join(dir, part)); err == nil && info.IsDir() {
				return "", fmt.Errorf("%s has %s but no firm.yaml, so that nothing of it would count\n\thint: write firm.yaml there, one line is enough: name: the firm", dir, part)
			}
		}
	}
	return "", nil
}
