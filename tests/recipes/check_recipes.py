"""Runs the code of docs/from-r-and-python.md as it stands there, and compares what it prints.

  python3 check_recipes.py r|python EGGFALL [--write]

Blocks of one language are one session, in a folder that holds the examples they read and with EGGFALL on
the path. A block marked with a package, as in ```python pandas, is left out, and that is said, where the
package is not there. What a block prints stands in the ```text block that follows it; --write puts it there.
Exit code 77: the language, or what all its blocks need, is not there.
"""
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile

TOP = pathlib.Path(__file__).resolve().parents[2]
DOCUMENT = TOP / "docs" / "from-r-and-python.md"
EXAMPLES = ("brackenhill.csv", "region.csv")
MARK = "### next block ###"
FENCE = re.compile(r"^```(\S*)(?: (\S+))?\n(.*?)^```\n", re.MULTILINE | re.DOTALL)
BEGINNINGS = {"pdf": b"%PDF", "png": b"\x89PNG"}

LANGUAGES = {
    "r": (["Rscript", "--vanilla"], "recipes.R", f'cat("{MARK}\\n")\n',
          ["Rscript", "--vanilla", "-e", "library(jsonlite)"]),
    "python": ([sys.executable, "-I", "-W", "error::SyntaxWarning"], "recipes.py", f'print("{MARK}")\n',
               [sys.executable, "-c", "import json"]),
}


def works(command):
    try:
        return subprocess.run(command, capture_output=True).returncode == 0
    except FileNotFoundError:
        return False


def blocks_of(language, text):
    """The code blocks to run, each with its place in `text` and the text block that follows it, or None."""
    fences = list(FENCE.finditer(text))
    blocks = []
    for fence, following in zip(fences, fences[1:] + [None]):
        if fence[1] != language:
            continue
        package = fence[2]
        if package and not works([sys.executable, "-c", f"import {package}"]):
            print(f"left out, since {package} is not there: the block at {text[:fence.start()].count(chr(10)) + 1}")
            continue
        shown = following if following and following[1] == "text" else None
        blocks.append((fence[3], shown))
    return blocks


def outputs_of(language, program, code):
    """What each block printed. Ends with a message if the session fails, or says something on stderr."""
    command, name, mark, _ = LANGUAGES[language]
    environment = {**os.environ, "LC_ALL": "C.UTF-8",
                   "PATH": f"{pathlib.Path(program).resolve().parent}{os.pathsep}{os.environ['PATH']}"}
    with tempfile.TemporaryDirectory() as folder:
        for example in EXAMPLES:
            shutil.copy(TOP / "examples" / example, folder)
        (pathlib.Path(folder) / name).write_text(mark.join(code), encoding="utf-8")
        done = subprocess.run([*command, name], cwd=folder, env=environment, capture_output=True, text=True,
                              encoding="utf-8")
        if done.returncode != 0 or done.stderr:
            sys.exit(f"exit code {done.returncode}\n{done.stdout}\n{done.stderr}")
        for picture in re.findall(r'"([a-z]+\.(?:pdf|png))"', "".join(code)):
            path = pathlib.Path(folder) / picture
            if not path.is_file() or not path.read_bytes().startswith(BEGINNINGS[path.suffix[1:]]):
                sys.exit(f"{picture} was not drawn")
            print(f"drawn: {picture}, {path.stat().st_size} bytes")
    return done.stdout.split(MARK + "\n")


def main(language, program, write):
    if not works(LANGUAGES[language][3]):
        print(f"{language}, or what its recipes need, is not there")
        sys.exit(77)
    text = DOCUMENT.read_text(encoding="utf-8")
    blocks = blocks_of(language, text)
    outputs = outputs_of(language, program, [code for code, _ in blocks])
    if len(outputs) != len(blocks) or len(blocks) < 4:
        sys.exit(f"{len(blocks)} blocks, {len(outputs)} outputs")
    wrong = 0
    for (code, shown), output in reversed(list(zip(blocks, outputs))):
        expected = shown[3] if shown else ""
        if write and shown:
            text = f"{text[:shown.start(3)]}{output}{text[shown.end(3):]}"
        elif output != expected:
            wrong += 1
            print(f"of the block\n{code}\nthe document says\n{expected}\nand it printed\n{output}")
    if write:
        DOCUMENT.write_text(text, encoding="utf-8")
    print(f"{len(blocks)} blocks, {wrong} that print something else")
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], "--write" in sys.argv[3:])
