#!/usr/bin/env python3
"""The order of the rooms: which include breaks it, and which header has no source or test of its name.

A file includes its own room and those before it. DEVELOPERS.md draws the house; .ci/rooms.toml holds
the order, and the reasons of headers that have no source or no test of their own.
"""

import pathlib
import re
import sys
import tomllib

ROOT = pathlib.Path(__file__).resolve().parent.parent
INCLUDE = re.compile(r'^\s*#\s*include\s+(?:"([^"]+)"|<([^>]+)>)')


def room_of(path):
    """The first folder below src or include/eggfall."""
    parts = path.relative_to(ROOT).parts
    return parts[2] if parts[0] == "include" else parts[1]


def stem(path):
    """Room and name, without the tree that it stands in: judgement/analyse."""
    parts = path.relative_to(ROOT).parts
    return "/".join(parts[2 if parts[0] == "include" else 1 :]).split(".")[0]


class Rooms:
    def __init__(self):
        settings = tomllib.loads((ROOT / ".ci/rooms.toml").read_text(encoding="utf-8"))
        self.order = settings["order"]
        self.strangers = [set(group) for group in settings["side_by_side"]]
        self.beyond_core = settings["outside_of_the_core"]
        self.outside = settings["outside_alone"]
        self.public_at_most = settings["public_headers_at_most"]
        self.no_source = settings["header_without_source"]
        self.no_test = settings["header_without_test"]
        self.problems = []

    def say(self, where, text):
        self.problems.append(f"{where}: {text}")

    def files(self):
        for tree in ("include/eggfall", "src"):
            for path in sorted((ROOT / tree).rglob("*")):
                if path.name.endswith((".hpp", ".cpp", ".cpp.in")):
                    yield path

    def check_include(self, path, line, quoted, angled):
        where = f"{path.relative_to(ROOT)}:{line}"
        mine = room_of(path)
        if angled:
            if angled.startswith("eggfall/"):
                self.say(where, f"found <{angled}>; the project's own headers stand in quotes")
            if angled in self.outside and mine not in self.beyond_core:
                self.say(where, f"found <{angled}>; the core knows no file, thread, terminal or clock: "
                                f"it belongs into {' or '.join(self.beyond_core)}")
            if path.parts[len(ROOT.parts)] == "include" and ("/" in angled or "." in angled):
                self.say(where, f"found <{angled}>; a public header includes the standard library and "
                                "public headers alone")
            return
        public = ROOT / "include" / quoted
        private = ROOT / "src" / quoted
        target = public if public.exists() else private
        if not target.exists():
            self.say(where, f'found "{quoted}"; expected the path of a header of the project, with its '
                            "room")
            return
        if path.parts[len(ROOT.parts)] == "include" and target is private:
            self.say(where, f'found "{quoted}"; a public header may not include a private one')
        theirs = room_of(target)
        if theirs not in self.order:
            return  # check() tells that it stands in no room
        if self.order.index(theirs) > self.order.index(mine):
            self.say(where, f'"{quoted}" is of the room {theirs}, which comes after {mine}; a file '
                            f"includes its own room and those before it ({', '.join(self.order)})")
        for group in self.strangers:
            if mine != theirs and {mine, theirs} <= group:
                self.say(where, f'"{quoted}" is of the room {theirs}; {", ".join(sorted(group))} stand '
                                "side by side and include none of each other")

    def check_names(self, headers):
        sources = {stem(path) for path in self.files() if not path.name.endswith(".hpp")}
        tests = {re.sub(r"(^|/)test_", r"\1", path.relative_to(ROOT / "tests").as_posix())[:-4]
                 for path in (ROOT / "tests").rglob("test_*.cpp")}
        for kind, have, excused in (("source", sources, self.no_source), ("test", tests, self.no_test)):
            for path in headers:
                name = stem(path)
                if name not in have and name not in excused:
                    self.say(path.relative_to(ROOT), f"has no {kind} of its own name, nor a reason in "
                                                     f".ci/rooms.toml, [header_without_{kind}]")
                if name in have and name in excused:
                    self.say(".ci/rooms.toml", f"{name} has a {kind} of its name: it needs no reason")
            names = {stem(path) for path in headers}
            for name in excused:
                if name not in names:
                    self.say(".ci/rooms.toml", f"there is no header {name} that could lack a {kind}")

    def check(self):
        headers = []
        for path in self.files():
            if room_of(path) not in self.order:
                self.say(path.relative_to(ROOT), "stands in no room; the rooms are "
                                                 + ", ".join(self.order))
                continue
            if path.name.endswith(".hpp"):
                headers.append(path)
            for number, text in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
                found = INCLUDE.match(text)
                if found:
                    self.check_include(path, number, found[1], found[2])
        public = [path for path in headers if path.relative_to(ROOT).parts[0] == "include"]
        if len(public) > self.public_at_most:
            self.say("include/eggfall", f"found {len(public)} public headers; at most "
                                        f"{self.public_at_most} are the door for users of the library")
        self.check_names(headers)
        return self.problems


if __name__ == "__main__":
    found = Rooms().check()
    print("\n".join(found) if found else "The rooms are in order.")
    sys.exit(1 if found else 0)
