#!/usr/bin/env python3
"""Mutation testing: small faults are built into a copy of models/ and solver/, each behind a switch,
and the tests must notice every one.

    nice tests/mutation/run.py [--mutants 320] [--seed 20261125] [--work build-mutation] [--again]
                               [--longest SECONDS] [--known RESULTS.md] [--suites models,solver]

All mutants live in one set of binaries; the environment variable HEADROOM_MUTANT picks one. A first
run without any notes which test cases reach which mutant, so that a mutant is tried only against
those, quickest first, until one fails. A crash or a run much longer than usual counts as noticed.
Test cases that take longer than --longest are left out. With --known those of the tables of an
earlier result are tried too, as far as their places are still there, and counted apart; with --again the survivors of
the last run are tried against the tests of today. Nothing but the standard library is used. Writes
WORK/results.json and prints the survivors.
"""
import argparse
import collections
import json
import pathlib
import random
import re
import subprocess
import sys
import time

from sites import find_sites

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests/checks"))
from relink import Relinked, SUITES, prepare

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
        total = max(1, sum(len(s) for s in self.pool.values()))
        say(f"{total} sites in {len(self.pool)} files")
        self.chosen = {f: [] for f in self.pool}
        self.known = set()
        wanted = {f: count * len(s) / total for f, s in self.pool.items()}
        for file in self.pool:
            for _ in range(int(wanted[file] + self.random.random())):
                self.draw(file)

    def take(self, file, site):
        """Adds a known place beside the sample; false if the sample has it or one across it."""
        free = all(site.end <= s.start or s.end <= site.start for s in self.chosen[file])
        if free:
            self.chosen[file].append(site)
            self.known.add(id(site))
        return free

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


def add_known(choice, file_name):
    """The places in the tables of an earlier result, each the nearest of its kind in its file."""
    for row in pathlib.Path(file_name).read_text().split("\n"):
        cells = [c.strip() for c in row.replace("\\|\\|", "\0").split("|")]
        place = re.fullmatch(r"(\S+\.cpp):(\d+)", cells[1]) if len(cells) > 4 else None
        if not place or not (ROOT / place.group(1)).exists():
            continue
        file = ROOT / place.group(1)
        before, after = (c.strip("`").replace("\0", "||") for c in cells[2:4])
        text = choice.texts[file]
        same = [s for s in find_sites(text)
                if " ".join(s.original.split())[:110] == before[:110] and
                " ".join(s.mutated.split())[:110] == after[:110]]
        same.sort(key=lambda s: abs(text.count("\n", 0, s.at) + 1 - int(place.group(2))))
        if not same or not choice.take(file, same[0]):
            say(f"no longer there: {place.group()}: {before} -> {after}")


def compile_mutants(choice, relinked, header):
    """Every file that has mutants. One that does not compile is replaced by another of its file."""
    mutants = []
    for k, file in enumerate(choice.chosen):
        for _ in range(30):
            sites = sorted(choice.chosen[file], key=lambda s: s.start)
            if not sites:
                break
            numbers = {id(s): 100 * k + i + 1 for i, s in enumerate(sites)}
            copy = header.parent / "mutated" / file.relative_to(ROOT)
            copy.parent.mkdir(parents=True, exist_ok=True)
            copy.write_text(choice.rewritten(file, numbers))
            done = relinked.compile(file, ["-O1", "-w", "-include", str(header)], copy)
            if done.returncode == 0:
                break
            drop_faulty(choice, file, numbers, copy, done.stderr)
        else:
            sys.exit(f"{file} does not compile with any mutants")
        for site in sites:
            line = choice.texts[file].count("\n", 0, site.at) + 1
            mutants.append({"number": numbers[id(site)], "file": str(file.relative_to(ROOT)),
                            "line": line, "kind": site.kind, "original": site.original,
                            "mutated": site.mutated, "known": id(site) in choice.known})
    return mutants


def drop_faulty(choice, file, numbers, copy, errors):
    text = copy.read_text().split("\n")
    bad = set()
    for line in re.findall(rf"{re.escape(str(copy))}:(\d+):\d+: (?:error|.*required)", errors):
        near = "\n".join(text[max(0, int(line) - 4):int(line) + 1])
        here = re.findall(r"headroom_mutant\((\d+)\)", text[int(line) - 1])
        bad |= {int(i) for i in here or re.findall(r"headroom_mutant\((\d+)\)", near)}
    kept = [s for s in choice.chosen[file] if bad and numbers[id(s)] not in bad]
    dropped = len(choice.chosen[file]) - len(kept)
    choice.chosen[file] = kept
    for _ in range(dropped):
        choice.draw(file)


def build(choice, work, ordinary):
    prepare(ordinary)
    relinked = Relinked(ordinary, work / "relinked")
    header = work / "mutant.hpp"
    header.write_text(HEADER)
    mutants = compile_mutants(choice, relinked, header)
    say(f"{len(mutants)} mutants")
    (work / "results.json").write_text(json.dumps(mutants, indent=1))
    relinked.link()
    return relinked, mutants


def survivors_again(work, ordinary):
    """The mutants of an earlier run, with the tests as they are now."""
    prepare(ordinary)
    relinked = Relinked(ordinary, work / "relinked")
    relinked.link()
    return relinked, json.loads((work / "results.json").read_text())


def environment(relinked, **more):
    return relinked.environment(HEADROOM_PROPERTY_NETWORKS="1000", HEADROOM_PROPERTY_HOUSES="10",
                                HEADROOM_SECOND_ROUTE_HOUSES="5", **more)


def spec(name):
    return re.sub(r"([\\,\[\]*])", r"\\\1", name)


def trace(relinked, work, longest, suites):
    """Which test cases reach which mutant, and how long each takes."""
    reach = collections.defaultdict(list)
    seconds = {}
    for suite in suites:
        binary = relinked.binary(f"test_{suite}")
        listed = subprocess.run([binary, "--list-test-names-only"], capture_output=True, text=True)
        for name in [line for line in listed.stdout.split("\n") if line.strip()]:
            file = work / "trace"
            file.unlink(missing_ok=True)
            start = time.monotonic()
            done = subprocess.run([binary, spec(name)], capture_output=True, text=True,
                                  env=environment(relinked, HEADROOM_MUTANT_TRACE=str(file)))
            if done.returncode != 0 or "No test cases matched" in done.stdout:
                say(f"left out, as it fails without a mutant: {suite}: {name}")
                continue
            seconds[suite, name] = time.monotonic() - start
            if seconds[suite, name] > longest:
                say(f"left out, {seconds[suite, name]:.0f} s: {suite}: {name}")
                continue
            if file.exists():
                for number in sorted(set(map(int, file.read_text().split()))):
                    reach[number].append((suite, name))
    return reach, seconds


def killer(relinked, number, tests, seconds):
    """What notices the mutant, or None. Test cases in order of their time, a binary at a time."""
    for limit in (0.1, 1.0, 1e9):
        for suite in SUITES:
            names = [n for s, n in tests if s == suite and seconds[s, n] < limit and
                     seconds[s, n] >= {0.1: 0.0, 1.0: 0.1, 1e9: 1.0}[limit]]
            names.sort(key=lambda n: seconds[suite, n])
            if not names:
                continue
            usual = sum(seconds[suite, n] for n in names)
            try:
                done = subprocess.run(
                    [relinked.binary(f"test_{suite}"), "--abort", ",".join(map(spec, names))],
                    capture_output=True, text=True, timeout=20.0 + 10.0 * usual,
                    env=environment(relinked, HEADROOM_MUTANT=str(number)))
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
    parser.add_argument("--known", help="an earlier result, whose tables are tried too")
    parser.add_argument("--longest", type=float, default=1e9)
    parser.add_argument("--suites", default=",".join(SUITES))
    parser.add_argument("--build", type=pathlib.Path, default=ROOT / "build")
    options = parser.parse_args()
    work = options.work.resolve()
    work.mkdir(parents=True, exist_ok=True)
    if options.again:
        relinked, mutants = survivors_again(work, options.build)
    else:
        choice = Choice(options.mutants, options.seed)
        if options.known:
            add_known(choice, options.known)
        relinked, mutants = build(choice, work, options.build)
    say("noting which test cases reach which mutant")
    reach, seconds = trace(relinked, work, options.longest, options.suites.split(","))
    # In random order, so that a run cut short is still a fair sample.
    for mutant in random.Random(options.seed).sample(mutants, len(mutants)):
        number = mutant["number"]
        if mutant.get("killed_by"):
            continue
        mutant["reached_by"] = len(reach[number])
        mutant["killed_by"] = killer(relinked, number, reach[number], seconds)
        say(f"{number} {mutant['file']}:{mutant['line']} {mutant['kind']}: "
            f"{mutant['killed_by'] or 'SURVIVED'}")
        (work / "results.json").write_text(json.dumps(mutants, indent=1))
    report(mutants)


def report(mutants):
    earlier = [m for m in mutants if "killed_by" in m and m.get("known")]
    if earlier:
        say(f"\n{sum(1 for m in earlier if m['killed_by'])} of {len(earlier)} of the known killed")
        survivors(earlier)
    mutants = [m for m in mutants if "killed_by" in m and not m.get("known")]
    killed = sum(1 for m in mutants if m["killed_by"])
    say(f"\n{killed} of {len(mutants)} killed, {100.0 * killed / len(mutants):.1f} %")
    for folder in ("models", "solver"):
        own = [m for m in mutants if m["file"].startswith(folder)]
        say(f"  {folder}: {sum(1 for m in own if m['killed_by'])} of {len(own)}")
    survivors(mutants)


def survivors(mutants):
    for m in mutants:
        if not m["killed_by"]:
            say(f"\n{m['file']}:{m['line']} {m['kind']}, reached by {m['reached_by']} test cases\n"
                f"  - {m['original']}\n  + {m['mutated']}")


if __name__ == "__main__":
    main()
