/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The text of a notes file as rows: which cell is what, nothing understood yet but the layout.
 * Match layer, pure. */
#pragma once

#include "core/base/civil.h"

G_BEGIN_DECLS

typedef struct
{
  int line;
  char *time, *place, *item, *count, *remark; /* never NULL; tidied, the remark only trimmed */
} SwNoteRow;
void sw_note_row_free (SwNoteRow *row);

/* A table (its first line names a column 'time') or plain lines. GPtrArray of SwNoteRow, transfer
 * full. Error: BAD_INPUT
 * ('name' begins the sentence). */
GPtrArray *sw_note_rows_read (GBytes *bytes, const char *name, GError **error);

/* When a row was written, as far as its text says. */
typedef enum
{
  SW_NOTE_TIME_BAD,
  SW_NOTE_TIME_DAY,    /* a day alone: for the rows that follow */
  SW_NOTE_TIME_CLOCK,  /* a time of day */
  SW_NOTE_TIME_MOMENT, /* a day and a time, maybe with a zone */
} SwNoteTimeKind;

typedef struct
{
  SwNoteTimeKind kind;
  SwDay day;        /* DAY */
  int second;       /* CLOCK: of the day, from midnight */
  SwInstant moment; /* MOMENT */
  int resolution_s; /* 60 where no seconds are written, else 1 */
} SwNoteTime;

/* zone: for moments without one. */
SwNoteTime sw_note_time_read (const char *text, const SwZone *zone);

G_END_DECLS
