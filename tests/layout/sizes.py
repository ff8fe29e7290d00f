#!/usr/bin/env python3
"""Files up to 250 lines and functions up to 40: every longer one is named here with its reason. sizes.py CHECKOUT"""

import pathlib
import re
import sys

MOST_FILE_LINES = 250
MOST_FUNCTION_LINES = 40

# Path, or path:function, and why it stays in one piece. A name that is no longer needed fails the test as well.
EXCEPTIONS = {
    'sim/app/pace_command.cpp:json_of': 'a list of keys of one document',
    'sim/evidence/motion_kinds.cpp': 'one kind of evidence row after another; each needs what stands above it',
    'sim/evidence/pictures.cpp': 'three pictures of the wake that share their curves',
    'sim/evidence/pictures.cpp:gap_picture': 'one picture from top to bottom',
    'sim/evidence/pictures.cpp:worth_picture': 'one picture from top to bottom',
    'sim/evidence/report.cpp:book_json': 'a list of keys of one document',
    'sim/evidence/report_page.cpp:page_rows': 'one table, column by column',
    'sim/evidence/row_reader.cpp': 'one file format, read key by key',
    'sim/evidence/row_reader.cpp:read_numbers': 'the ways of writing one number, with the fault of each',
    'sim/evidence/row_reader.cpp:read_row': 'one row, key by key',
    'sim/io/forecast_csv.cpp:read_forecast_csv': 'one file format, line by line',
    'sim/io/road_line.cpp:road_from_line': 'one section, key by key',
    'sim/io/towing_graphml.cpp:towing_graphml': 'one document from top to bottom',
    'sim/io/trace_parts_write.cpp:write_events': 'one table of the trace, column by column',
    'sim/model/advance_wide.cpp:advance_four': 'one step in vector registers: cut in two, the values between go through memory',
    'sim/model/wake_superposed.cpp:evaluate': 'one loop in vector registers: cut in two, the sums between go through memory',
    'sim/plan/wind_outlook.cpp:wind_outlook': 'one row of the outlook, value by value',
    'sim/riding/line.cpp:line_fields': 'a table of settings',
    'viz/view/controls.cpp:apply': 'one switch, a line a command',
}

TOKEN = re.compile(r'R"(?P<mark>[^(\s]*)\(.*?\)(?P=mark)"|"(?:\\.|[^"\\])*"|\'(?:\\.|[^\'\\])+\'|//[^\n]*|/\*.*?\*/|[{};()]|^[ \t]*#(?:\\\n|[^\n])*',
                   re.S | re.M)
SCOPE = re.compile(r'\b(namespace|struct|class|enum|union|extern)\b')


def functions(text):
    """Name and lines of every function with a body, from its first line to its closing brace."""
    found, scopes, statement_begin, depth = [], [], 0, 0
    for token in TOKEN.finditer(text):
        mark = token.group()
        if mark.startswith(('//', '/*', '#')) or mark.lstrip().startswith('#'):
            if not text[statement_begin:token.start()].strip():
                statement_begin = token.end()
            continue
        if mark in '()':
            depth += 1 if mark == '(' else -1
        elif mark == '{':
            head = text[statement_begin:token.start()]
            in_function = any(kind == 'function' for kind, *_ in scopes)
            plain = re.sub(r'template\s*<[^{]*?>\s', '', head)
            name = re.search(r'([~\w:]+|operator\S+)\s*\(', plain)
            if not in_function and depth == 0 and name and not SCOPE.match(plain.strip()) and '=' not in plain.split('(')[0]:
                begin = statement_begin + len(head) - len(head.lstrip())
                scopes.append(('function', name.group(1), begin))
            else:
                scopes.append(('other', '', 0))
            if not in_function and scopes[-1][0] == 'other':
                statement_begin = token.end()
        elif mark == '}':
            kind, name, begin = scopes.pop()
            if kind == 'function':
                found.append((name, text.count('\n', begin, token.end()) + 1))
            if not any(kind == 'function' for kind, *_ in scopes):
                statement_begin = token.end()
        elif mark == ';' and depth == 0 and not any(kind == 'function' for kind, *_ in scopes):
            statement_begin = token.end()
    return found


def main():
    root = pathlib.Path(sys.argv[1])
    too_long = {}
    for folder in ('include', 'sim', 'viz'):
        for path in sorted((root / folder).rglob('*.[ch]pp')):
            text, name = path.read_text(encoding='utf-8'), path.relative_to(root).as_posix()
            lines = text.count('\n')
            if lines > MOST_FILE_LINES:
                too_long[name] = lines
            for function, length in functions(text):
                if length > MOST_FUNCTION_LINES:
                    too_long[f'{name}:{function}'] = length
    faults = [f'{name}: {lines} lines' for name, lines in too_long.items() if name not in EXCEPTIONS]
    faults += [f'{name}: named as an exception, and is none' for name in EXCEPTIONS if name not in too_long]
    print('\n'.join(faults) or f'{len(EXCEPTIONS)} named exceptions')
    return 1 if faults else 0


if __name__ == '__main__':
    sys.exit(main())
