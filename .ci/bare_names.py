#!/usr/bin/env python3
"""Finds variables, members and functions that are called "of", "by", "so" or "at" and nothing more.

Such a name says how it is used in one sentence, and not what it is: "of.flock" is read three times.
What calls a container's own at() is no such name, nor is the word of a loop in JavaScript.
"""

import pathlib
import re
import subprocess
import sys

not_code = re.compile(
    r'//[^\n]*|/\*.*?\*/|R"(\w*)\(.*?\)\1"'
    r'|"(?:\\.|[^"\\\n])*"'
    r"|(?<![0-9a-fA-F])'(?:\\.|[^'\\\n])*'", re.S)
bare_in_cpp = re.compile(r'\b(?:of|by|so)\b|(?<!\.)(?<!->)\bat\b|(?:\.|->)at\b(?!\s*\()')
# In JavaScript "of" is a word of the language, and in template texts all of them stand as words: there
# what declares a name is looked for, by const, let or var, or as a parameter.
name = r'\b(?:of|by|so|at)\b'
bare_in_script = re.compile(
    rf'\b(?:const|let|var)\s+{name}'
    rf'|\b(?:const|let|var)\s*[\[{{][^=;]*?{name}\s*[,}}\]]'
    rf'|[(,{{\[]\s*(?:\.\.\.)?{name}(?=\s*(?:\)|[,}}\]=][^()]*\))\s*(?:=>|\{{))')


def blanked(match):
    return re.sub(r'[^\n]', ' ', match.group())


def findings(path):
    code = not_code.sub(blanked, path.read_text())
    bare = bare_in_script if path.suffix in ('.js', '.mjs') else bare_in_cpp
    for match in bare.finditer(code):
        yield f'{path}:{code.count(chr(10), 0, match.start()) + 1}: the bare name in "{match.group().strip()}"'


def main():
    listed = subprocess.run(['git', 'ls-files', '*.cpp', '*.hpp', '*.cpp.in', '*.js', '*.mjs'],
                            check=True, capture_output=True, text=True).stdout.split()
    found = [line for path in listed for line in findings(pathlib.Path(path))]
    for line in found:
        print(line, file=sys.stderr)
    if found:
        sys.exit('a name says what it names: position, level, factor, ...')


main()
