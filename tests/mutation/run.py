#!/usr/bin/env python3
"""Mutation testing: small faults are built into a copy of models/ and solver/, each behind a switch,
and the tests must notice every one.

    nice tests/mutation/run.py [--mutants 320] [--seed 20261125] [--work build-mutation] [--again]

All mutants live in one set of binaries; the environment variable HEADROOM_MUTANT picks one. A first
run without any notes which test cases reach which mutant, so that a mutant is tried only against
those, quickest first, until one fails. A crash or a run much longer than usual counts as noticed.
Nothing but the standard library is used. Writes WORK/results.json and prints the survivors.
"""
import argparse
import collections
import json
import os
import pathlib
import random
import re
import shutil
import subprocess
import sys
import time

from sites import find_sites

ROOT = pathlib.Path(__file__).resolve().parents[2]
TESTS = ["models", "published", "computed", "solver", "networks", "identities", "properties",
         "program"]
HEADER = """#pragma once
#include <cstdio>
#include <cstdlib>
#include <vector>
namespace headroom_mutation {
inline int number(const char *name) {
    const char *text = std::getenv(name);
    return text ? std::atoi(text) : 0;
}
inline const int active = number("HEADROOM_MUTANT");
struct Reached {
    std::vector<char> seen = std::vector<char>(100000, 0);
    const char *file = std::getenv("HEADROOM_MUTANT_TRACE");
    ~Reached() {
        std::FILE *out = file ? std::fopen(file, "a") : nullptr;
        if (!out)
            return;
        for (std::size_t i = 0; i < seen.size(); ++i)
            if (seen[i])
                std::fprintf(out, "%zu\\n", i);
        std::fclose(out);
        file = nullptr;
    }
};
inline Reached reached;
} // namespace headroom_mutation
inline bool headroom_mutant(int i) {
    if (headroom_mutation::reached.file)
        headroom_mutation::reached.seen[static_cast<std::size_t>(i)] = 1;
    return headroom_mutation::active == i;
}
"""


def say(text):
    print(text, flush=True)


def sources():
    """What is mutated: the physics and the engine with its questions, not the outputs."""
    files = sorted(ROOT.glob("models/*.cpp"))
    for folder in ("solver", "solver/flow", "solver/heat", "solver/questions"):
        files += sorted(ROOT.glob(folder + "/*.cpp"))
    return files


class Choice:
    """A random sample of sites, as many from a file as its share of all sites, none overlapping."""

    def __init__(self, count, seed):
        self.random = random.Random(seed)
        self.texts = {f: f.read_text() for f in sources()}
        self.pool = {}
        for file, text in self.texts.items():
            sites = find_sites(text)
            self.random.shuffle(sites)
            self.pool[file] = sites
        total = sum(len(s) for s in self.pool.values())
        say(f"{total} sites in {len(self.pool)} files")
        self.chosen = {f: [] for f in self.pool}
        wanted = {f: count * len(s) / total for f, s in self.pool.items()}
        for file in self.pool:
            for _ in range(int(wanted[file] + self.random.random())):
                self.draw(file)

    def draw(self, file):
        while self.pool[file]:
            site = self.pool[file].pop()
            if all(site.end <= s.start or s.end <= site.start for s in self.chosen[file]):
                self.chosen[file].append(site)
                return

    def rewritten(self, file, numbers):
        text = self.texts[file]
        for site in sorted(self.chosen[file], key=lambda s: -s.start):
            text = (text[:site.start] + f"(headroom_mutant({numbers[id(site)]}) ? ({site.mutated})"
                    f" : ({site.original}))" + text[site.end:])
        return text


def compile_command(tree, file, header):
    flags = ["-std=c++20", "-w", "-O0", "-fsyntax-only", "-I", str(tree), "-I",
             str(tree / "build/generated"), "-I/usr/include/eigen3", "-include", str(header)]
    return ["g++", *flags, str(file)]


def settle(choice, tree, header):
    """Drops mutants that do not compile, each replaced by another from its file."""
    for file in list(choice.chosen):
        for _ in range(30):
            numbers = {id(s): i for i, s in enumerate(choice.chosen[file])}
            copy = tree / file.relative_to(ROOT)
            copy.write_text(choice.rewritten(file, numbers))
            done = subprocess.run(compile_command(tree, copy, header), capture_output=True,
                                  text=True)
            if done.returncode == 0:
                break
            text = copy.read_text().split("\n")
            bad = set()
            for line in re.findall(rf"{re.escape(str(copy))}:(\d+):\d+: (?:error|.*required)",
                                   done.stderr):
                near = "\n".join(text[max(0, int(line) - 4):int(line) + 1])
                here = re.findall(r"headroom_mutant\((\d+)\)", text[int(line) - 1])
                bad |= {int(i) for i in here or re.findall(r"headroom_mutant\((\d+)\)", near)}
            if not bad:
                bad = set(range(len(choice.chosen[file])))
            choice.chosen[file] = [s for i, s in enumerate(choice.chosen[file]) if i not in bad]
            for _ in bad:
                choice.draw(file)
        else:
            sys.exit(f"{file} does not compile with any mutants")


def build(choice, work):
    tree = work / "tree"
    shutil.rmtree(tree, ignore_errors=True)
    tree.mkdir(parents=True)
    for name in ("CMakeLists.txt", "models", "networks", "solver", "tests", "README.md",
                 "DEVELOPERS.md"):
        source = ROOT / name
        (shutil.copytree if source.is_dir() else shutil.copy)(source, tree / name)
    header = work / "mutant.hpp"
    header.write_text(HEADER)
    configure = ["cmake", "-S", str(tree), "-B", str(tree / "build"), "-DCMAKE_BUILD_TYPE=Release",
                 f"-DCMAKE_CXX_FLAGS=-w -include {header}"]
    if shutil.which("ccache"):
        configure.append("-DCMAKE_CXX_COMPILER_LAUNCHER=ccache")
    subprocess.run(configure, check=True, capture_output=True)
    settle(choice, tree, header)
    mutants, numbers = [], {}
    for file, sites in choice.chosen.items():
        for site in sorted(sites, key=lambda s: s.start):
            numbers[id(site)] = len(mutants) + 1
            line = choice.texts[file].count("\n", 0, site.at) + 1
            mutants.append({"number": len(mutants) + 1, "file": str(file.relative_to(ROOT)),
                            "line": line, "kind": site.kind, "original": site.original,
                            "mutated": site.mutated})
    for file in choice.chosen:
        (tree / file.relative_to(ROOT)).write_text(choice.rewritten(file, numbers))
    say(f"{len(mutants)} mutants; building")
    (work / "results.json").write_text(json.dumps(mutants, indent=1))
    compile_all(tree)
    return tree, mutants


def compile_all(tree):
    targets = ["headroom"] + ["test_" + t for t in TESTS]
    done = subprocess.run(["cmake", "--build", str(tree / "build"), "-j1", "--target", *targets],
                          capture_output=True, text=True)
    if done.returncode != 0:
        sys.exit(done.stdout[-3000:] + done.stderr[-3000:])


def survivors_again(work):
    """The mutants of an earlier run, with the tests as they are now."""
    tree = work / "tree"
    shutil.rmtree(tree / "tests")
    shutil.copytree(ROOT / "tests", tree / "tests")
    compile_all(tree)
    return tree, json.loads((work / "results.json").read_text())


def environment(**more):
    return {**os.environ, "HEADROOM_PROPERTY_NETWORKS": "100", **more}


def spec(name):
    return re.sub(r"([\\,\[\]*])", r"\\\1", name)


def trace(tree, work):
    """Which test cases reach which mutant, and how long each takes."""
    reach = collections.defaultdict(list)
    seconds = {}
    for suite in TESTS:
        binary = tree / f"build/tests/test_{suite}"
        listed = subprocess.run([binary, "--list-test-names-only"], capture_output=True, text=True)
        for name in [line for line in listed.stdout.split("\n") if line.strip()]:
            file = work / "trace"
            file.unlink(missing_ok=True)
            start = time.monotonic()
            done = subprocess.run([binary, spec(name)], capture_output=True, text=True,
                                  env=environment(HEADROOM_MUTANT_TRACE=str(file)))
            if done.returncode != 0 or "No test cases matched" in done.stdout:
                say(f"left out, as it fails without a mutant: {suite}: {name}")
                continue
            seconds[suite, name] = time.monotonic() - start
            if file.exists():
                for number in sorted(set(map(int, file.read_text().split()))):
                    reach[number].append((suite, name))
    return reach, seconds


def killer(tree, number, tests, seconds):
    """What notices the mutant, or None. Test cases in order of their time, a binary at a time."""
    for limit in (0.1, 1.0, 1e9):
        for suite in TESTS:
            names = [n for s, n in tests if s == suite and seconds[s, n] < limit and
                     seconds[s, n] >= {0.1: 0.0, 1.0: 0.1, 1e9: 1.0}[limit]]
            names.sort(key=lambda n: seconds[suite, n])
            if not names:
                continue
            usual = sum(seconds[suite, n] for n in names)
            try:
                done = subprocess.run(
                    [tree / f"build/tests/test_{suite}", "--abort", ",".join(map(spec, names))],
                    capture_output=True, text=True, timeout=20.0 + 10.0 * usual,
                    env=environment(HEADROOM_MUTANT=str(number)))
            except subprocess.TimeoutExpired:
                return f"{suite}: time"
            if done.returncode != 0:
                title = re.search(r"^-{79}\n(.*?)\n-{79}$", done.stdout, re.M | re.S)
                return f"{suite}: {title.group(1).strip() if title else 'crash'}"
    return None


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--mutants", type=int, default=320)
    parser.add_argument("--seed", type=int, default=20261125)
    parser.add_argument("--work", type=pathlib.Path, default=ROOT / "build-mutation")
    parser.add_argument("--again", action="store_true",
                        help="try the survivors of the last run against the tests of today")
    options = parser.parse_args()
    work = options.work.resolve()
    work.mkdir(parents=True, exist_ok=True)
    if options.again:
        tree, mutants = survivors_again(work)
    else:
        tree, mutants = build(Choice(options.mutants, options.seed), work)
    say("noting which test cases reach which mutant")
    reach, seconds = trace(tree, work)
    # In random order, so that a run cut short is still a fair sample.
    for mutant in random.Random(options.seed).sample(mutants, len(mutants)):
        number = mutant["number"]
        if mutant.get("killed_by"):
            continue
        mutant["reached_by"] = len(reach[number])
        mutant["killed_by"] = killer(tree, number, reach[number], seconds)
        say(f"{number} {mutant['file']}:{mutant['line']} {mutant['kind']}: "
            f"{mutant['killed_by'] or 'SURVIVED'}")
        (work / "results.json").write_text(json.dumps(mutants, indent=1))
    report(mutants)


def report(mutants):
    mutants = [m for m in mutants if "killed_by" in m]
    killed = sum(1 for m in mutants if m["killed_by"])
    say(f"\n{killed} of {len(mutants)} killed, {100.0 * killed / len(mutants):.1f} %")
    for folder in ("models", "solver"):
        own = [m for m in mutants if m["file"].startswith(folder)]
        say(f"  {folder}: {sum(1 for m in own if m['killed_by'])} of {len(own)}")
    for m in mutants:
        if not m["killed_by"]:
            say(f"\n{m['file']}:{m['line']} {m['kind']}, reached by {m['reached_by']} test cases\n"
                f"  - {m['original']}\n  + {m['mutated']}")


if __name__ == "__main__":
    main()
