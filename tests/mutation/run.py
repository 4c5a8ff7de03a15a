#!/usr/bin/env python3
"""Mutation testing: small faults are built into a copy of models/ and solver/, each behind a
switch, and the tests must notice every one.

    nice tests/mutation/run.py [--mutants 320] [--seed 20261125] [--work build-mutation] [--again]
                               [--longest SECONDS] [--budget SECONDS] [--known RESULTS.md]
                               [--suites models,solver]

All mutants live in one set of binaries; the environment variable HEADROOM_MUTANT picks one. A first
run without any notes which test cases reach which mutant, so that a mutant is tried only against
those, quickest first, until one fails. A crash or a run much longer than usual counts as noticed.
Test cases that take longer than --longest (5 s) are left out, and so are a mutant's slowest ones
when all that reach it take longer than --budget (60 s) together; not those of the regression suite,
which it meets whatever they take: a survivor may then be one that more time would show to be
noticed, never the other way round. With --known those of the tables of
an earlier result are tried too, as far as their places are still there, and counted apart; with
--again the survivors of the last run are tried against the test cases they have not met. Times are
the processor's. Nothing but the standard library is used. Writes WORK/results.json and prints the
survivors.
"""
import argparse
import collections
import json
import math
import pathlib
import random
import re
import resource
import signal
import subprocess
import sys

from sites import find_sites

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tests/checks"))
from relink import Relinked, SUITES, prepare

HERE = pathlib.Path(__file__).resolve().parent


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
            # Else the two would be of an optional's type, and the mutated one always there.
            truth = "!!" if site.kind == "condition" else ""
            text = (text[:site.start] + f"(headroom_mutant({numbers[id(site)]}) ? ({site.mutated})"
                    f" : {truth}({site.original}))" + text[site.end:])
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
            copy = relinked.out / "mutated" / file.relative_to(ROOT)
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
    header = HERE / "mutant.hpp"
    (work / "traces.json").unlink(missing_ok=True)
    mutants = compile_mutants(choice, relinked, header)
    say(f"{len(mutants)} mutants")
    (work / "results.json").write_text(json.dumps(mutants, indent=1))
    link(relinked, work)
    return relinked, mutants


def link(relinked, work):
    main = work / "main.o"
    done = subprocess.run(["c++", "-std=c++20", "-O0", "-w", "-c", HERE / "traced_main.cpp",
                           "-o", main])
    if done.returncode != 0:
        sys.exit("the suites' main does not compile")
    relinked.suite_objects = [str(main)]
    relinked.link()


def survivors_again(work, ordinary):
    """The mutants of an earlier run, with the tests as they are now."""
    prepare(ordinary)
    relinked = Relinked(ordinary, work / "relinked")
    link(relinked, work)
    return relinked, json.loads((work / "results.json").read_text())


def run_for(seconds, command, environment):
    """A finished process and its processor time, its children's included; None in place of the
    process if it took longer. Time by the clock says little on a machine that others use."""
    def limit():
        resource.setrlimit(resource.RLIMIT_CPU, (math.ceil(seconds), math.ceil(seconds) + 1))

    def spent():
        used = resource.getrusage(resource.RUSAGE_CHILDREN)
        return used.ru_utime + used.ru_stime

    before = spent()
    try:
        done = subprocess.run(command, capture_output=True, text=True, env=environment,
                              preexec_fn=limit, timeout=60.0 + 30.0 * seconds)
    except subprocess.TimeoutExpired:
        return None, seconds
    out_of_time = done.returncode in (-signal.SIGXCPU, -signal.SIGKILL)
    return None if out_of_time else done, spent() - before


def environment(relinked, **more):
    return relinked.environment(HEADROOM_PROPERTY_NETWORKS="200", HEADROOM_PROPERTY_HOUSES="10",
                                HEADROOM_SECOND_ROUTE_HOUSES="5", **more)


def spec(name):
    return re.sub(r"([\\,\[\]*])", r"\\\1", name)


def slow_tests(ordinary, longest):
    """Those that took longer when ctest last ran, if it did."""
    file = pathlib.Path(ordinary) / "Testing/Temporary/LastTest.log"
    text = file.read_text(errors="replace") if file.exists() else ""
    rows = re.findall(r"^\d+/\d+ Test: (.*?)$.*?^Test time = +([\d.]+) sec$", text, re.M | re.S)
    return {name for name, seconds in rows if float(seconds) > longest}


ON_FILE = "regression"  # the suite that sees most


class Traces:
    """Which test cases reach which mutant, and how long each takes; kept in a file, so that later
    runs on the same mutants trace only the test cases that are new."""

    def __init__(self, relinked, work, slow, longest):
        self.relinked, self.work, self.slow, self.longest = relinked, work, slow, longest
        self.file = work / "traces.json"
        self.of = json.loads(self.file.read_text()) if self.file.exists() else {}
        self.reach = collections.defaultdict(list)  # by mutant: (seconds, suite, name)

    def add_suite(self, suite):
        binary = self.relinked.binary(f"test_{suite}")
        listed = subprocess.run([binary, "--list-test-names-only"], capture_output=True, text=True)
        names = [line for line in listed.stdout.split("\n") if line.strip()]
        new = [n for n in names if f"{suite}: {n}" not in self.of and
               (suite == ON_FILE or f"{suite}:{n}" not in self.slow)]
        for name, fine, seconds, numbers in self.trace(binary, new):
            if not fine:
                say(f"left out, as it fails without a mutant: {suite}: {name}")
            self.of[f"{suite}: {name}"] = fine and [seconds, numbers]
        for name in names:
            if trace := self.of.get(f"{suite}: {name}"):
                if trace[0] > self.longest and suite != ON_FILE:
                    continue
                for number in trace[1]:
                    self.reach[number].append((trace[0], suite, name))
        self.file.write_text(json.dumps(self.of))

    def trace(self, binary, names):
        """Rows of name, whether it passed, its time and the mutants it reaches."""
        notes = self.work / "notes"
        notes.unlink(missing_ok=True)
        if names:
            subprocess.run([binary, ",".join(map(spec, names))], capture_output=True,
                           env=environment(self.relinked, HEADROOM_MUTANT_NOTES=str(notes),
                                           HEADROOM_MUTANT_TRACE=str(self.work / "trace")))
        for row in notes.read_text().split("\n")[:-1] if notes.exists() else []:
            name, fine, seconds, numbers = row.split("\t")
            yield name, fine == "1", float(seconds), [int(n) for n in numbers.split()]


class Trial:
    """Tries mutants: first the test cases that noticed others of the same file, then by their
    time, until one fails or the time for a mutant is up. Answers on file come before test cases
    as long as they are, for they see more."""

    BANDS = (0.05, 0.3, 1e9)

    def __init__(self, relinked, reach, budget):
        self.relinked, self.reach, self.budget = relinked, reach, budget
        self.noticed_in = collections.defaultdict(collections.Counter)

    def run(self, mutant):
        tests = self.chosen(mutant)
        mutant["killed_by"] = None
        good = self.noticed_in[mutant["file"]]
        likely = [t for t in tests if good[f"{t[1]}: {t[2]}"]]
        rest = [t for t in tests if t not in likely]
        low = 0.0
        groups = [likely]
        for high in self.BANDS:
            band = [t for t in rest if low <= t[0] < high]
            groups.append([t for t in band if t[1] == ON_FILE])
            groups.append([t for t in band if t[1] != ON_FILE])
            low = high
        for group in groups:
            for suite in SUITES:
                names = [(seconds, name) for seconds, s, name in group if s == suite]
                by = self.batch(mutant["number"], suite, names)
                if by:
                    mutant["killed_by"] = by
                    good[by] += 1
                    return
        mutant["tried"] = mutant.get("tried", []) + [f"{s}: {n}" for _, s, n in tests]

    def chosen(self, mutant):
        """The quickest of those that reach it and have not been tried, as far as the time goes,
        and all answers on file."""
        tried = set(mutant.get("tried", []))
        out, left = [], self.budget
        for test in sorted(self.reach[mutant["number"]]):
            if f"{test[1]}: {test[2]}" in tried:
                continue
            if test[1] != ON_FILE:
                left -= test[0]
            if left >= 0.0 or test[1] == ON_FILE:
                out.append(test)
        return out

    def batch(self, number, suite, names):
        """What notices it among some test cases of a suite, run in one process, or None."""
        if not names:
            return None
        done, _ = run_for(5.0 + 6.0 * sum(seconds for seconds, _ in names),
                          [self.relinked.binary(f"test_{suite}"), "--abort",
                           ",".join(spec(name) for _, name in sorted(names))],
                          environment(self.relinked, HEADROOM_MUTANT=str(number)))
        if done is None:
            return f"{suite}: time"
        if done.returncode == 0:
            return None
        title = re.search(r"^-{79}\n(.*?)\n-{79}$", done.stdout, re.M | re.S)
        return f"{suite}: {' '.join(title.group(1).split()) if title else 'crash'}"


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    parser.add_argument("--mutants", type=int, default=320)
    parser.add_argument("--seed", type=int, default=20261125)
    parser.add_argument("--work", type=pathlib.Path, default=ROOT / "build-mutation")
    parser.add_argument("--again", action="store_true",
                        help="try the survivors of the last run against the tests of today")
    parser.add_argument("--known", help="an earlier result, whose tables are tried too")
    parser.add_argument("--longest", type=float, default=5.0)
    parser.add_argument("--budget", type=float, default=60.0)
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
    traces = Traces(relinked, work, slow_tests(options.build, options.longest), options.longest)
    for suite in options.suites.split(","):
        traces.add_suite(suite)
    usual = [trace[0] for trace in traces.of.values() if trace]
    say(f"{len(usual)} test cases, {sum(usual):.0f} s")
    trial = Trial(relinked, traces.reach, options.budget)
    # In random order, so that a run cut short is still a fair sample.
    for mutant in random.Random(options.seed).sample(mutants, len(mutants)):
        if mutant.get("killed_by"):
            continue
        mutant["reached_by"] = len(traces.reach[mutant["number"]])
        trial.run(mutant)
        say(f"{mutant['number']} {mutant['file']}:{mutant['line']} {mutant['kind']}: "
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
