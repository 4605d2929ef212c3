# SPDX-License-Identifier: GPL-3.0-or-later
"""The proof of the layers must be able to fail: violations are planted in what it reads, and the
compiler's own dependency output is tried on a small real build."""
import pathlib
import subprocess
import tempfile

import layers
import tap

ROOT = pathlib.Path("/r")
TABLE = ["base", "plan", "draw", "batch", "desktop"]
GTK = "/usr/include/gtk-4.0/gtk/gtk.h"


def complaints(source, *read, sources=()):
    objects = {"x.o": [f"/r/src/{source}", *read]}
    return list(layers.check_objects(objects, sources, ROOT, TABLE))


class Objects(tap.Case):
    def test_what_is_allowed(self):
        self.assertEqual(complaints("plan/reach.c", "/r/src/plan/reach.h", "/r/src/base/vec.h",
                                    "/usr/include/glib-2.0/glib.h"), [])
        self.assertEqual(complaints("draw/plan.c", "/usr/include/cairo/cairo.h"), [])
        self.assertEqual(complaints("desktop/main.c", GTK, "/r/src/draw/plan.h",
                                    "/usr/include/gtk-4.0/gdk/gdk.h"), [])

    def test_an_arrow_the_wrong_way(self):
        self.assertEqual(complaints("base/text.c", "/r/src/plan/reach.h"),
                         ["src/base/text.c (base) reads src/plan/reach.h (plan)"])

    def test_siblings_see_nothing_of_each_other(self):
        self.assertEqual(len(complaints("batch/main.c", "/r/src/desktop/window.h")), 1)
        self.assertEqual(len(complaints("desktop/main.c", "/r/src/batch/verbs.h")), 1)

    def test_gtk_outside_of_desktop(self):
        for place in ["base/a.c", "draw/a.c", "batch/a.c"]:
            for header in [GTK, "/usr/include/gtk-4.0/gdk/gdk.h", "/usr/include/gtk-4.0/gsk/gsk.h"]:
                self.assertEqual(len(complaints(place, header)), 1, (place, header))

    def test_cairo_and_pango_below_draw(self):
        self.assertEqual(len(complaints("plan/a.c", "/usr/include/cairo/cairo.h")), 1)
        self.assertEqual(len(complaints("base/a.c", "/usr/include/pango-1.0/pango/pango.h")), 1)

    def test_a_source_that_was_never_compiled(self):
        self.assertEqual(len(complaints("base/a.c", sources=["/r/src/base/a.c", "/r/src/base/b.c"])),
                         1)

    def test_a_folder_outside_of_the_table(self):
        with self.assertRaises(SystemExit):
            complaints("attic/a.c")

    def test_the_table_is_the_order_in_meson(self):
        text = (tap.ROOT / "src/meson.build").read_text(encoding="utf-8")
        table = layers.read_table(text)
        self.assertEqual(table[0], "base")
        self.assertEqual(table[-2:], ["batch", "desktop"])
        folders = {path.parent.name for path in (tap.ROOT / "src").glob("*/meson.build")}
        self.assertEqual(set(table), folders)

    def test_a_real_build_with_a_planted_violation(self):
        with tempfile.TemporaryDirectory() as room:
            root = pathlib.Path(room).resolve()
            for folder in ["base", "desktop"]:
                (root / "src" / folder).mkdir(parents=True)
            (root / "src/desktop/window.h").write_text("int window;\n")
            (root / "src/base/text.h").write_text('#include "../desktop/window.h"\n')
            (root / "src/base/text.c").write_text('#include "text.h"\n')
            (root / "meson.build").write_text(
                "project('p', 'c')\nstatic_library('b', 'src/base/text.c')\n")
            build = root / "build"
            for words in [["meson", "setup", str(build), str(root)], ["ninja", "-C", str(build)]]:
                subprocess.run(words, check=True, capture_output=True)
            deps = subprocess.run(["ninja", "-C", str(build), "-t", "deps"], check=True,
                                  capture_output=True, text=True).stdout
            found = list(layers.check_objects(layers.read_deps(deps, build), [], root, TABLE))
        self.assertEqual(found, ["src/base/text.c (base) reads src/desktop/window.h (desktop)"])


class Numbers(tap.Case):
    def found(self, text, name="src/plan/a.c"):
        return len(list(layers.check_numbers(name, text)))

    def test_doubles_through_printf(self):
        for form in ["%f", "%g", "%.1f", "%5.*f", "%-8.3e", "%+.2f", "%%%g", "%lf", "%a"]:
            self.assertEqual(self.found(f'g_strdup_printf ("x {form} mm", x);'), 1, form)

    def test_what_is_no_double(self):
        for form in ["%d", "%s", "%%", "100 % free", "50 %% free", "%zu", "%5d", "%" "ld", "%c"]:
            self.assertEqual(self.found(f'g_strdup_printf ("{form}", x);'), 0, form)
        self.assertEqual(self.found('/* "%f" */ int f; // "%g"\n'), 0)

    def test_text_to_number(self):
        for call in ["strtod (t, NULL)", "atof (t)", 'sscanf (t, "x")', "g_ascii_strtod (t, NULL)"]:
            self.assertEqual(self.found(f"x = {call};"), 1, call)
        self.assertEqual(self.found("x = lw_number_from_text (t, '.', &v);"), 0)
        self.assertEqual(self.found('say ("strtod (t)");'), 0)
        self.assertEqual(self.found("x = g_ascii_strtod (t, &end);", "src/base/scan.c"), 0)
        self.assertEqual(self.found("x = strtod (t, &end);", "src/base/scan.c"), 1)

    def test_the_one_file_that_may(self):
        self.assertEqual(self.found('g_ascii_formatd (b, 32, "%.17g", v);', "src/base/text.c"), 0)

    def test_the_place_is_named(self):
        said = list(layers.check_numbers("src/plan/a.c", '/* one\n two */\nprintf ("%g", x);\n'))
        self.assertEqual(said, ["src/plan/a.c:3: a double in a format: use base/text.h"])


tap.main()
