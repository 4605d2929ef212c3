/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "bench.h"

/* The table of scenes. Each module's scenes stand in tests/bench-<module>.c (listed in
 * tests/meson.build) as an array that ends with an empty entry. */
extern const BenchScene bench_base[];
extern const BenchScene bench_job[];
extern const BenchScene bench_mesh[];
extern const BenchScene bench_draw[];
extern const BenchScene bench_plan[];
extern const BenchScene bench_window[];

static const BenchScene *const bench_tables[] = {
  bench_base, bench_job, bench_mesh, bench_draw, bench_plan, bench_window,
};
