package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/viper"

	"lapwork/content"
	"lapwork/generator"
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
	if firmDir == "" {
		return v, nil
	}
	firm := viper.New()
	firm.SetConfigFile(filepath.Join(firmDir, "firm.yaml"))
	if err := firm.ReadInConfig(); err != nil {
		return nil, fmt.Errorf("settings in %s: %w", filepath.Join(firmDir, "firm.yaml"), err)
	}
	return v, v.MergeConfigMap(firm.GetStringMap("commands"))
}

// sources finds the folders a command reads: the job named in args or the embedded demo, and the firm's folder.
func sources(cmd *cobra.Command, args []string) (generator.Sources, *viper.Viper, error) {
	src := generator.Sources{Content: content.FS, Templates: templates.FS, Theme: themes.FS}
	var firmDir string
	if len(args) == 0 {
		demo, err := fs.Sub(content.FS, "demo")
		if err != nil {
			return src, nil, err
		}
		src.Job, src.JobName = demo, "demo"
		src.Firm, src.FirmInJob = demo, true
	} else {
		dir, err := jobFolder(args[0])
		if err != nil {
			return src, nil, err
		}
		src.Job, src.JobName, src.JobDir = openFolder(dir), args[0], dir
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
		src.Firm = openFolder(firmDir)
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
	return "", nil
}
