"""Pure calculations: no file, no clock, no template, no rule. Every figure carries its steps."""
