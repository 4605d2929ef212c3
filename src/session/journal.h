/* SPDX-License-Identifier: GPL-3.0-or-later
 * SPDX-FileCopyrightText: The Leeway founders */
#pragma once

#include "session/document.h"

/* Keeps a document's unsaved state in $XDG_STATE_HOME/leeway/journal, written within a second of an
 * edit, so that whatever ends the program costs a second's work at most. The file goes when the
 * document is saved, or is given up in good order (lw_journal_free). While the program lives it
 * holds a lock beside it, by which others see that it is no leftover. */
typedef struct _LwJournal LwJournal;

/* Watches document, of which a reference is kept. Main thread. */
LwJournal *lw_journal_new (LwDocument *document);
/* Removes the journal: whoever closes an unsaved document has asked first. */
void lw_journal_free (LwJournal *journal);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (LwJournal, lw_journal_free)

/* Writes at once what is not written yet. */
bool lw_journal_write (LwJournal *journal, GError **error);
/* What went wrong at the last writing (disk full), or NULL. Borrowed. */
const char *lw_journal_get_problem (LwJournal *journal);

/* A state that a program left behind when it ended badly. */
typedef struct {
  char *journal; /* its file */
  char *title;   /* of the job; what is wrong with the journal when it can't be read */
  char *path;    /* of the job's file, or NULL when it was never saved */
  gint64 when;   /* last written, µs since 1970 */
  bool readable;
} LwLeftover;

void lw_leftover_free (LwLeftover *leftover);

/* All leftovers, the latest first: an array of LwLeftover that owns them. Journals of programs that
 * still run are not among them. */
GPtrArray *lw_journal_find (void);
/* Puts a leftover into the journal's document, as an unsaved state of the file it belongs to, and
 * removes it once it is in this journal. */
bool lw_journal_recover (LwJournal *journal, const char *leftover, GError **error);
/* Removes a leftover. */
void lw_journal_discard (const char *leftover);
