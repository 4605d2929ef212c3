/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include <stdint.h>

#include "files/program.h"
#include "machine/head.h"

/* A tool path cut into pieces that can each be judged with one attitude:
 *
 *   - a straight move with the same axis at both ends is one piece: the pivot runs straight too, so
 *     its two ends prove it;
 *   - a move on which the axis turns (the tip straight, the axis on its great circle) is judged at
 *     places between which the axis turns by 1° at most, each with the axis that it has there.
 *     Between two such places the pivot strays from the straight line by (P + L)(1 − cos 0.5°) at
 *     most, 0.04 mm a metre. The offsets of a head bring the pivot no more
 *     than LW_TRACK_STRAY further from one to the next: where the better branch changes in between,
 *     half of that is missed at most;
 *   - a drilled place is its stroke from `clear` above to `depth` below; moves lead to and from
 *     where the stroke begins;
 *   - the first place of a tool is a piece of its own: from where the tool comes is not known.
 *
 * Only moves of one tool; those before any tool is loaded count as everybody's. Branch and turn of
 * C are free for each piece: whether they follow each other is a matter of winding, not judged
 * here. */
typedef struct {
  const LwProgram *program;  /* borrowed */
  struct LwTrackItem *items; /* owned */
  uint32_t n_items;
} LwTrack;

/* More pieces than this (at 24 bytes) are not judged. */
#define LW_TRACK_MOST_ITEMS 16000000

/* turn: part frame to table frame, whose Z the head turns about. Answers NULL, or why the path
 * can't be judged (translated; new string). */
char *lw_track_init (LwTrack *track, const LwProgram *program, int tool, const LwHead *head,
                     LwMat3 turn);
/* What of the program may move the machine besides the path; NULL: nothing. New string. */
char *lw_track_dup_open (const LwTrack *track);
void lw_track_clear (LwTrack *track);

/* Part frame. */
typedef struct {
  LwVec3 tips[3]; /* the piece is their hull; mm */
  int n;
  LwVec3 axis;   /* held over the whole piece, unit */
  double weight; /* length that the piece stands for, mm */
} LwTrackPiece;

LwTrackPiece lw_track_get (const LwTrack *track, uint32_t item);
