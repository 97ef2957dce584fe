#!/usr/bin/env python3
"""Finds options of the command line in texts of the library.

A library's message is read in a page and in C++ too, where nobody can type an option: it mentions a
Setting, and each door puts its own name there (src/cli/option_name.cpp, src/web/setting_names.cpp).
A whole command line of the program may be shown ("eggfall audit --grid lesson"), as teaching pages
do, and what is written for a terminal alone (*_text.cpp) may name the options of its own command.
"""

import pathlib
import re
import subprocess
import sys

literal = r'"(?:\\.|[^"\\\n])*"'
literals = re.compile(rf'{literal}(?:\s*{literal})*')
not_text = re.compile(r'//[^\n]*|R"(\w*)\(.*?\)\1"', re.S)
option = re.compile(r'(?:^|[\s(\'`])--[a-z]')
command_line = re.compile(r'eggfall [a-z]+ ')
style = re.compile(r'var\(--|--[a-z]+:')


def findings(path):
    text = not_text.sub(lambda match: re.sub(r'[^\n]', ' ', match.group()), path.read_text())
    for match in literals.finditer(text):
        words = ''.join(part[1:-1] for part in re.findall(literal, match.group()))
        if option.search(words) and not command_line.search(words) and not style.search(words):
            yield f'{path}:{text.count(chr(10), 0, match.start()) + 1}: {words[:90]}'


def main():
    listed = subprocess.run(['git', 'ls-files', 'src/*.cpp', 'src/*.hpp', 'include/*.hpp'], check=True,
                            capture_output=True, text=True).stdout.split()
    found = [line for path in listed
             if not path.startswith(('src/cli/', 'src/manual/')) and not path.endswith('_text.cpp')
             for line in findings(pathlib.Path(path))]
    for line in found:
        print(line, file=sys.stderr)
    if found:
        sys.exit('a text of the library mentions a Setting (eggfall/base/error.hpp), and no option')


main()
