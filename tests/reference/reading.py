"""How hard a text is to read: counts and grades of a fixed sample, a line a text, by textstat."""

from pathlib import Path

import textstat

FOLDER = Path(__file__).parent / "reading"

GRADES = {"en": textstat.textstat.flesch_kincaid_grade, "es": textstat.textstat.fernandez_huerta}


def row(text, grade):
    return [
        textstat.textstat.lexicon_count(text),
        textstat.textstat.sentence_count(text),
        textstat.textstat.syllable_count(text),
        float(grade(text)),
    ]


def vectors():
    counted = {}
    for language, grade in GRADES.items():
        textstat.textstat.set_lang(language)
        lines = (FOLDER / f"{language}.txt").read_text(encoding="utf-8").splitlines()
        counted[language] = [row(line, grade) for line in lines]
    return counted
