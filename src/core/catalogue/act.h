/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Acts: everything that changes a catalogue happens inside one, and can be undone as one.
 * Every public function that writes begins an act of its own; inside a larger act it becomes a savepoint of that, so
 * that it works alone or as a part, and a refusal half-way leaves nothing. Only the outermost commits: one row in 'act',
 * the events told within, and one changeset (SQLite's session extension) that undo and redo apply. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

/* On the stack: g_auto (SwAct) act = SW_ACT_INIT; leaving the scope without sw_act_commit takes it back. */
typedef struct
{
  SwCatalogue *catalogue;
  int level;
} SwAct;

#define SW_ACT_INIT { NULL, 0 }

typedef enum
{
  SW_SUBJECT_CATALOGUE,
  SW_SUBJECT_PLACE,
  SW_SUBJECT_TRIP,
  SW_SUBJECT_ITEM,
  SW_SUBJECT_PHOTO,
  SW_SUBJECT_OUTLET,
  SW_SUBJECT_OFFER,
  SW_SUBJECT_CAMERA,
  SW_SUBJECT_BRING_IN,
  SW_SUBJECT_DOCKET,
  SW_N_SUBJECTS,
} SwSubject;

/* Begins; BEGIN IMMEDIATE at the outermost level with a short busy timeout. Errors: BUSY, READ_ONLY, REFUSED (the folder was moved
 * away since it was opened). */
gboolean sw_act_begin (SwAct *act, SwCatalogue *catalogue, GError **error);
/* The same for what is no act: data that can be worked out again (likeness), settings, and the batches of a bring-in. Durable once
 * committed, but without a row, changeset or undo; what is told within is dropped. Committed by sw_act_commit (sentence NULL). Inside an
 * act its changes are left out of that act's changeset. */
gboolean sw_act_begin_plain (SwAct *act, SwCatalogue *catalogue, GError **error);

/* Tells an event of this act: 'verb' is a short key ("item.moved"), 'day' the day it counts for (NULL: the act's), 'sentence' what
 * a person reads in the history ("Screw press: Found to Ready"). */
gboolean sw_act_tell (SwAct *act, SwSubject subject, gint64 id, const char *verb, const SwDay *day,
                      const char *sentence, GError **error);

/* Commits (outermost) or releases (inside). 'sentence' names the whole act in the undo line; inside an outer act it is dropped. An act
 * that changed and told nothing leaves no row; one that only told leaves its events and is not for undo. On failure (BUSY, NO_SPACE)
 * nothing of the act stands once it is cleared. */
gboolean sw_act_commit (SwAct *act, const char *sentence, GError **error);
/* The end of a bring-in. Its batches were plain, each durable by itself; this one act, begun after the last of them, names the whole
 * ("41 photos of trip 2 brought in") and may hold the closing rows and its events. Outermost only. Undo puts every photo of the bring-in
 * aside (rows and files stay), redo takes them back; REFUSED while one of them shows an item or a place: that came later and is undone first. */
gboolean sw_act_commit_bring_in (SwAct *act, gint64 bring_in, const char *sentence, GError **error);

void sw_act_clear (SwAct *act);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SwAct, sw_act_clear)

/* Takes back the latest act that stands / makes the latest undone act stand again (refused once a new act was made since).
 * *out_sentence (transfer full, may be NULL): the act's. Errors: REFUSED (nothing to undo; changed meanwhile), BUSY. */
gboolean sw_undo (SwCatalogue *catalogue, char **out_sentence, GError **error);
gboolean sw_redo (SwCatalogue *catalogue, char **out_sentence, GError **error);
/* What undo / redo would do, for the window; NULL for nothing. Transfer full. */
char *sw_undo_sentence (SwCatalogue *catalogue);
char *sw_redo_sentence (SwCatalogue *catalogue);

/* The number of the latest act: two reads with the same one saw the same decisions. 0: none yet. */
gboolean sw_act_latest (SwCatalogue *catalogue, gint64 *out_act, GError **error);

/* History of one subject, newest first. */
typedef struct
{
  gint64 id, act;
  SwInstant at;
  gboolean has_day;
  SwDay day;
  char *author, *verb, *sentence;
  const char *subject; /* "item", "offer", ...; interned */
  gint64 subject_id;
  gboolean undone;
} SwEvent;
void sw_event_free (SwEvent *event);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwEvent, sw_event_free)
/* GPtrArray of SwEvent, transfer full. */
GPtrArray *sw_events_of (SwCatalogue *catalogue, SwSubject subject, gint64 id, GError **error);
/* Of everything, oldest first. Transfer full. */
GPtrArray *sw_event_list (SwCatalogue *catalogue, GError **error);

G_END_DECLS
