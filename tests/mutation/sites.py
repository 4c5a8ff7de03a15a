"""Places in C++ text where an expression can be changed, found from the text alone.

Relies on the layout that clang-format keeps: binary operators stand between blanks. A change that
does not compile is dropped by whoever builds the text, so the search may be generous.
"""
import re
from dataclasses import dataclass

OPERATORS = {
    "<": "<=", "<=": "<", ">": ">=", ">=": ">", "==": "!=", "!=": "==",
    "+": "-", "-": "+", "*": "/", "/": "*", "&&": "||", "||": "&&",
}
OPERATOR = re.compile(r"(?<=[\w)\]}.]) (<=|>=|==|!=|&&|\|\||[<>+*/-]) (?=[\w(!*&{-])")
CONSTANT = re.compile(r"(?<![\w.\"'])(\d+\.\d*(?:e[+-]?\d+)?|\d+)(?![\w.'])")
CONDITION = re.compile(r"\b(?:if|while) \(")
OPEN, CLOSE = "([{", ")]}"


@dataclass
class Site:
    kind: str   # "operator", "constant" or "condition"
    start: int  # of the whole expression that is replaced
    end: int
    original: str
    mutated: str
    at: int     # where the change is


def blanked(text):
    """The text with comments, strings and preprocessor lines as blanks of the same length."""
    pattern = re.compile(r'//[^\n]*|/\*.*?\*/|R"re\(.*?\)re"|"(?:\\.|[^"\\\n])*"|'
                         r"'(?:\\.|[^'\\\n])'|^#[^\n]*", re.S | re.M)
    return pattern.sub(lambda m: re.sub(r"[^\n]", " ", m.group()), text)


def left_end(code, at):
    depth = 0
    for i in range(at - 1, -1, -1):
        c = code[i]
        if c in CLOSE:
            depth += 1
        elif c in OPEN:
            if depth == 0:
                return i + 1
            depth -= 1
        elif depth == 0:
            if c in ",;?:" and code[i - 1:i + 1] != "::" and code[i:i + 2] != "::":
                return i + 1
            if c == "=" and code[i - 1] not in "<>=!" and code[i + 1] != "=":
                return i + 1
            if code[i:i + 7] == "return ":
                return i + 7
    return 0


def right_end(code, at):
    depth = 0
    for i in range(at, len(code)):
        c = code[i]
        if c in OPEN:
            depth += 1
        elif c in CLOSE:
            if depth == 0:
                return i
            depth -= 1
        elif depth == 0 and c in ",;?:" and "::" not in (code[i - 1:i + 1], code[i:i + 2]):
            return i
    return len(code)


def enclosing(code, at, after):
    start, end = left_end(code, at), right_end(code, after)
    while start < at and code[start].isspace():
        start += 1
    return start, end


def function_bodies(code):
    """Spans of braces that open after `)` or `) const`, or a lambda's, at any depth."""
    spans, stack = [], []
    for i, c in enumerate(code):
        if c == "{":
            before = code[max(0, i - 24):i].rstrip()
            stack.append((i, before.endswith((")", "const", "noexcept", "else", "do"))))
        elif c == "}" and stack:
            start, body = stack.pop()
            if body:
                spans.append((start, i))
    return spans


def find_sites(text):
    code = blanked(text)
    bodies = function_bodies(code)
    inside = lambda at: any(a < at < b for a, b in bodies)
    found = []

    def add(kind, start, end, at, after, instead):
        original = text[start:end]
        if not inside(at) or "{" in code[start:end] or not code[start:end].strip() or \
                len(original) > 400 or "//" in original:
            return
        mutated = text[start:at] + instead + text[after:end]
        found.append(Site(kind, start, end, original, mutated, at))

    for m in OPERATOR.finditer(code):
        start, end = enclosing(code, m.start(1), m.end(1))
        add("operator", start, end, m.start(1), m.end(1), OPERATORS[m.group(1)])
    for m in CONSTANT.finditer(code):
        value = m.group(1)
        zero = float(value) == 0.0
        instead = ("1.0" if "." in value else "1") if zero else \
                  f"({value} * 2.0)" if "." in value else f"({value} + 1)"
        add("constant", m.start(1), m.end(1), m.start(1), m.end(1), instead)
    for m in CONDITION.finditer(code):
        start = m.end()
        end = right_end(code, start)
        if end < len(code) and code[end] == ")":
            add("condition", start, end, start, start, "!(")
            if found and found[-1].start == start and found[-1].kind == "condition":
                found[-1].mutated = f"!({text[start:end]})"
    return found
