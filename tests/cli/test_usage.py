# SPDX-License-Identifier: GPL-3.0-or-later
"""What is called wrongly ends with 2, says why, and writes nothing."""
import harness


class Usage(harness.Case):
    def refused(self, *words, problem, command=''):
        self.fails(*words, status=2,
                   message=f"countwright: {problem}\ncountwright: see 'countwright {command}--help'\n")

    def test_commands(self):
        self.refused(problem='a command is missing')
        self.refused('cuont', problem="'cuont': there is no such command")
        self.refused('--loud', problem="'--loud': there is no such command")
        self.refused('', problem="'': there is no such command")

    def test_operands(self):
        self.refused('count', problem="'count': a file is missing", command='count ')
        self.refused('count', 'a', 'b', problem="'b': this is one too many for 'count'", command='count ')
        self.refused('drift', problem="'drift': A B [C ...] is missing", command='drift ')
        self.refused('sheet', 'a', 'b', 'c', problem="'c': this is one too many for 'sheet'", command='sheet ')

    def test_options(self):
        self.refused('count', 'a', '--loud', problem="'--loud': 'count' has no such option", command='count ')
        self.refused('count', 'a', '--list', 'bars', problem="'bars': '--list' takes one of beats, counts, ones, stretches",
                     command='count ')
        self.refused('count', 'a', '-o', 'a.doc', command='count ',
                     problem="'a.doc': a file for '--output' ends in one of .pdf, .svg, .png, .txt, .json, .csv, .mid, .html")
        self.refused('drift', 'a', 'b', '--json', '--csv', problem="'--json' and '--csv' exclude each other",
                     command='drift ')
        self.refused('drift', 'a', 'b', '--at', 'x', '--chart', 'c.svg', command='drift ',
                     problem="'--at' prints times alone, without tables, charts or notes")

    def test_cues(self):
        names = "takes names that '--leave-out list' prints"
        for cues in ('bars', '', 'slow,', 'slow,list'):
            self.refused('count', 'a', '--leave-out', cues, problem=f"'{cues}': '--leave-out' {names}",
                         command='count ')
        self.refused('count', 'a', '--leave-out', 'slow', '--tracker', 'aubio', command='count ',
                     problem="'--leave-out' is nothing to aubio")
        self.refused('sheet', 'a', '--leave-out', 'slow', problem="'--leave-out': 'sheet' has no such option",
                     command='sheet ')

    def test_ears(self):
        self.refused('drift', 'a', 'b', '--ear', 'left', problem="'left': '--ear' takes one of plain, learned",
                     command='drift ')
        self.refused('count', 'a', '--ear', 'learned', '--tracker', 'aubio', command='count ',
                     problem="'--ear' is nothing to aubio")

    def test_a_name_that_is_not_text(self):
        odd = b'\xff\xfe.wav'.decode('utf-8', 'surrogateescape')
        self.fails('count', odd, message=f"countwright: '{odd}': there is no such file\n")


if __name__ == '__main__':
    harness.main()
