package main

// plainHelp is what can be typed, a thing a line.
var plainHelp = []string{
	"What can be typed, one thing a line:",
	"A number: go there in the list; you are asked what clears it.",
	"list: how she stands, what is in the way, with its numbers.",
	"walk, or walk ROUND: the round, check by check.",
	"On a check: y right, n not right, c could not look, x not aboard, or a value.",
	"Words behind it are the evidence, or what is not right: y upper mark",
	"At the end of a section: done, if its sentence is so.",
	"again repeats the check, next passes it, back goes back, leave ends the walk.",
	"A check by its name, anywhere: engine-oil y upper mark",
	"Any command, as: sound port water 62 %",
	"help COMMAND: how a command is written, as: help noon",
	"leave: leave this program. Leaving with the boat is depart.",
	"The end of the input answers nothing; nor does an empty line.",
	"A line answers a question only if it was typed for it.",
	"A line that was there before counts only if it names what it answers.",
	"That is so because nobody has read the question by then.",
	"It holds for lines that are pasted, and for scripts: engine-oil y, not y.",
	"A script signs with: sign NAME --yes",
	"The commands:",
}

// help tells what can be typed, or how a command is written.
func (p *plain) help(command string) {
	if command != "" {
		words := parted(command)
		if words[0] == "hoveshort" && len(words) > 1 {
			words = words[1:]
		}
		if !p.knows(words[0]) {
			p.say("There is no command %q. help alone lists them.", cut(words[0], 40))
			return
		}
		p.do(append(words[:1:1], "--help")...)
		return
	}
	for _, line := range plainHelp {
		p.say("%s", line)
	}
	for _, cmd := range p.commands() {
		p.under("%s: %s", cmd.Name(), cmd.Short)
	}
}
