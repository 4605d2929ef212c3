/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

/* The verbs of leeway-batch. Each takes its own arguments (argv[0] is the verb), prints its answer
 * on standard output, errors on standard error, and answers the exit status. */

int lw_batch_pose (int argc, char **argv);
int lw_batch_solve (int argc, char **argv);
int lw_batch_reach (int argc, char **argv);
int lw_batch_check (int argc, char **argv);
int lw_batch_import (int argc, char **argv);
