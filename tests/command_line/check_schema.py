# SPDX-License-Identifier: MIT
# check_schema.py SCHEMA FILE...: does each JSON file (comments allowed) obey the schema? Says where it does not; status 1.
# Needs Debian's python3-jsonschema: another hand than ours that reads JSON Schema.
import json
import sys

import jsonschema


def without_comments(text):
    out, i = [], 0
    while i < len(text):
        if text[i] == '"':
            end = i + 1
            while text[end] != '"':
                end += 2 if text[end] == "\\" else 1
            out.append(text[i : end + 1])
            i = end + 1
        elif text.startswith("//", i):
            i = text.find("\n", i) if "\n" in text[i:] else len(text)
        elif text.startswith("/*", i):
            i = text.index("*/", i) + 2
        else:
            out.append(text[i])
            i += 1
    return "".join(out)


def load(file):
    with open(file, encoding="utf-8") as source:
        return json.loads(without_comments(source.read()))


def values_of(file):
    """One value, or of a .jsonl file one a line."""
    if not file.endswith(".jsonl"):
        return [load(file)]
    with open(file, encoding="utf-8") as source:
        return [json.loads(line) for line in source]


schema = load(sys.argv[1])
jsonschema.Draft202012Validator.check_schema(schema)
validator = jsonschema.Draft202012Validator(schema)
status = 0
for file in sys.argv[2:]:
    for value in values_of(file):
        # A validation case holds its piece inside.
        if isinstance(value, dict) and "expect" in value and "piece" in value:
            value = value["piece"]
        for error in validator.iter_errors(value):
            status = 1
            print(f"{file}: {error.json_path}: {error.message[:200]}")
sys.exit(status)
