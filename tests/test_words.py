# SPDX-License-Identifier: GPL-3.0-or-later
"""The check of the translations must be able to fail: each fault is planted in a small tree."""
import contextlib
import io
import pathlib
import tempfile

import tap
import words

HEAD = ('msgid ""\nmsgstr ""\n"Content-Type: text/plain; charset=UTF-8\\n"\n"Language: de\\n"\n'
        '"Project-Id-Version: x\\n"\n"PO-Revision-Date: 2026-01-01 00:00+0000\\n"\n'
        '"Last-Translator: x\\n"\n"Language-Team: x\\n"\n"MIME-Version: 1.0\\n"\n'
        '"Content-Transfer-Encoding: 8bit\\n"\n\n')
GOOD = 'msgid "too long by %s"\nmsgstr "zu lang um %s"\n'


class Words(tap.Case):
    def said(self, catalog=GOOD, listed="src/plan/a.c\n", options=()):
        """What the check says of a tree with one file that has a string and one that has none."""
        with tempfile.TemporaryDirectory() as folder:
            root = pathlib.Path(folder)
            (root / "src/plan").mkdir(parents=True)
            (root / "po").mkdir()
            (root / "src/plan/a.c").write_text('g_strdup_printf (_("too long by %s"), t);\n')
            (root / "src/plan/b.c").write_text('/* _("not this") */ int b;\n')
            (root / "po/POTFILES").write_text(listed)
            (root / "po/LINGUAS").write_text("de\n")
            (root / "po/de.po").write_text(HEAD + catalog)
            out = io.StringIO()
            with contextlib.redirect_stdout(out):
                status = words.main([*options, folder])
        self.assertEqual(status, 0 if out.getvalue() == "words: 0 complaints\n" else 1)
        return out.getvalue()

    def test_all_in_order(self):
        self.assertEqual(self.said(), "words: 0 complaints\n")

    def test_a_source_that_is_not_listed(self):
        self.assertIn("lacks src/plan/a.c", self.said(listed=""))

    def test_a_listed_source_without_strings(self):
        self.assertIn("lists src/plan/b.c", self.said(listed="src/plan/a.c\nsrc/plan/b.c\n"))

    def test_a_missing_translation(self):
        self.assertIn('untranslated: "too long by %s"', self.said(catalog=""))
        self.assertIn("untranslated", self.said(catalog='msgid "too long by %s"\nmsgstr ""\n'))

    def test_a_fuzzy_translation(self):
        self.assertIn("fuzzy", self.said(catalog="#, fuzzy\n" + GOOD))

    def test_a_translation_that_nothing_uses(self):
        self.assertIn("obsolete", self.said(catalog=GOOD + '\nmsgid "gone"\nmsgstr "weg"\n'))

    def test_update_adds_what_is_new_and_leaves_it_to_be_translated(self):
        gone = GOOD.replace("too long", "gone")
        self.assertEqual(self.said(gone, "src/gone.c\n", ["--update"]),
                         'words: de.po: untranslated: "too long by %s"\nwords: 1 complaints\n')
        self.assertEqual(self.said(GOOD + gone.replace("zu lang", "weg"), "", ["--update"]),
                         "words: 0 complaints\n")

    def test_a_format_that_does_not_fit(self):
        self.assertIn("de.po", self.said(catalog='msgid "too long by %s"\nmsgstr "zu lang um %d"\n'))


tap.main()
