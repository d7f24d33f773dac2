/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Row provider of a row list: an immutable set of rows that is replaced as a whole when the
 * catalogue changes. The list asks for the rows in view only. Knows no core type; the page that
 * makes it joins the two. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* How a row is laid out. */
typedef enum
{
  SW_ROW_ITEM,  /* one picture at the left, two lines */
  SW_ROW_LINE,  /* no picture, one line */
  SW_ROW_OFFER, /* one picture at the left, three lines */
} SwRowKind;

/* What a row shows. Owned text; empty or NULL is left out. */
typedef struct
{
  char *title;
  char *trail;                         /* at the right of the title: money, a count */
  const char *icon;                    /* symbol before the word; static */
  const char *word;                    /* state or band; static */
  char *detail;                        /* after the word, dim */
  const char *below_icon, *below_word; /* OFFER: the same in the third line; static */
  char *below;                         /* OFFER: after it, dim */
  char *sentence;                      /* what a screen reader says */
  gint64 picture;                      /* a photo's number; 0: none */
  gboolean done;                       /* nothing to decide any more: drawn dim */
} SwRowFace;

void sw_row_face_clear (SwRowFace *face);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SwRowFace, sw_row_face_clear)

typedef struct _SwRows SwRows;

typedef struct
{
  SwRowKind (*kind) (gpointer data, guint i);
  /* A number that stays with the row over changes (item number, stop number); unique. */
  gint64 (*key) (gpointer data, guint i);
  /* Fills a zeroed face. */
  void (*face) (gpointer data, guint i, SwRowFace *out_face);
} SwRowsFuncs;

/* funcs: static. data: owned, freed by destroy. Transfer full. */
SwRows *sw_rows_new (guint count, const SwRowsFuncs *funcs, gpointer data, GDestroyNotify destroy);
SwRows *sw_rows_ref (SwRows *rows);
void sw_rows_unref (SwRows *rows);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwRows, sw_rows_unref)

/* NULL counts as no rows. */
guint sw_rows_count (SwRows *rows);
SwRowKind sw_rows_kind (SwRows *rows, guint i);
gint64 sw_rows_key (SwRows *rows, guint i);
void sw_rows_face (SwRows *rows, guint i, SwRowFace *out_face);
/* -1 where no row has the key. */
int sw_rows_find (SwRows *rows, gint64 key);

G_END_DECLS
