/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "base/text.h"
#include "job/job.h"

/* In the order in which the first that applies is the verdict. */
typedef enum {
  LW_VERDICT_DOES_NOT_FIT,
  LW_VERDICT_NOT_CHECKED,
  LW_VERDICT_TIGHT,
  LW_VERDICT_FITS,
} LwVerdictKind;

/* A place where a number was found. */
typedef struct {
  bool exists;
  LwPose pose;    /* machine frame */
  LwVec3 tip;     /* table frame */
  LwVec3 contact; /* on the part, table frame */
  LwVec3 axis;    /* tool axis, table frame */
} LwWitness;

/* How one item of a region (a triangle, a point, a piece of a loop) came out. */
typedef struct {
  float slack; /* least of leeway / reserve at the best candidate; −INFINITY: no attitude */
  unsigned short candidate; /* which of the allowed axes; LW_NO_CANDIDATE when there is none */
  unsigned short branch;    /* 0 the + branch, 1 the − branch */
} LwItem;

#define LW_NO_CANDIDATE 255

typedef enum {
  LW_MEND_MOVE,       /* move the part by `by`, table frame */
  LW_MEND_RISER,      /* stand it `height` higher or lower: `by` */
  LW_MEND_LENGTH_MAX, /* tip length no longer than `value` mm */
  LW_MEND_LENGTH_MIN, /* tip length no shorter than `value` mm */
  LW_MEND_LEAN,       /* allow a lean up to `value` rad */
} LwMendKind;

/* What would mend an operation; each was judged again in full with it. */
typedef struct {
  LwMendKind kind;
  LwVec3 by;
  double value;
  bool enough;      /* the operation then keeps its reserves; else `remains` says what is left */
  LwLeeway remains; /* leeway of the operation with it */
  char *breaks;     /* name of another operation that would no longer fit with it, or NULL */
  JsonNode *edit;   /* what to set at `path` of the job to follow it */
  char *path;
} LwMend;

void lw_mend_clear (LwMend *mend);

/* The verdict on one operation. Reference-counted and immutable once made. */
typedef struct {
  int ref_count;
  int setup, operation; /* indices into the job */
  LwVerdictKind verdict;
  char *missing;          /* why travel could not be judged; translated; NULL when it was */
  char *open;             /* what may move the machine besides what was judged, translated; NULL:
                             nothing. The verdict is then never better than not checked */
  bool judged;            /* travel and rotary limits were judged */
  double reachable_share; /* 0 … 1 by area, length or count */
  uint32_t n_items, n_unreachable;
  LwLeeway leeway; /* least over the region at each item's best candidate; NAN: no attitude */
  LwWitness travel_at, rotary_at;
  bool takes_attitudes; /* false: at some item the head can take none of the allowed attitudes */
  LwVec3 without_at;    /* the first such place, table frame */
  bool within_reserves; /* travel (less the placement's tolerance) and rotary keep their reserves */
  uint32_t *triangles;  /* for a surface region: the mesh's triangle of each item; else NULL */
  LwItem *items;
  LwMend *mends;
  int n_mends;
} LwOperationVerdict;

LwOperationVerdict *lw_operation_verdict_ref (LwOperationVerdict *verdict);
void lw_operation_verdict_unref (LwOperationVerdict *verdict);

/* Judges one operation of a job: every triangle, both branches, every turn of C. Same bytes for any
 * number of threads. NULL only when cancelled. */
LwOperationVerdict *lw_verdict_judge (const LwJob *job, int setup, int operation,
                                      LwProgress *progress);
/* Adds the mends to a fresh verdict that is tight or does not fit (each judged in full). False when
 * cancelled. */
bool lw_verdict_find_mends (const LwJob *job, LwOperationVerdict *verdict, LwProgress *progress);

/* What went into an operation's verdict, as text: the memo's key. New string. */
char *lw_verdict_dup_key (const LwJob *job, int setup, int operation);

/* The verdict on the job: the first of the order that applies to any operation; not checked when
 * there is none. */
typedef struct {
  LwVerdictKind verdict;
  LwOperationVerdict **operations; /* in the job's order; a NULL entry is still being checked */
  int n_operations;
} LwJobVerdict;

/* The first of the order that applies; an entry that is NULL counts as not checked. */
LwVerdictKind lw_verdict_of_operations (LwOperationVerdict *const *operations, int n);
int lw_job_count_operations (const LwJob *job);

/* Judges every operation, with mends. NULL when cancelled. */
LwJobVerdict *lw_verdict_judge_job (const LwJob *job, LwProgress *progress);
void lw_job_verdict_free (LwJobVerdict *verdict);
/* One sentence for the top of the page: "Rim trim is 33.3 mm short of X+ travel." New string. */
char *lw_job_verdict_dup_sentence (const LwJob *job, const LwJobVerdict *verdict, LwUnit unit);
/* What was proven: "travel", "rotary" (English words of the files). NULL-terminated, static. */
const char *const *lw_verdict_get_proven (const LwJobVerdict *verdict);
/* Why an operation's verdict is what it is, in words: "33.3 mm short of X+ travel". New string. */
char *lw_operation_verdict_dup_reason (const LwJob *job, const LwOperationVerdict *verdict,
                                       LwUnit unit);

/* "does-not-fit", … as in files and batch; and the word for people, translated. */
const char *lw_verdict_get_word (LwVerdictKind verdict);
const char *lw_verdict_get_label (LwVerdictKind verdict);

/* One mend in words: "move the part 43.4 mm towards X−". New string. */
char *lw_mend_to_text (const LwJob *job, const LwMend *mend, LwUnit unit);
