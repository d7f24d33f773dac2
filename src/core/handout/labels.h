/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sheets of labels by their measure, so that tags meet the labels of whichever sheet is in the
 * printer. Handout layer. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Millimetres on ISO 216 A4, from the sheet's left and upper edge. */
typedef struct
{
  const char *name; /* what a person picks it by: its measure; NULL: typed */
  int columns, rows;
  double left, top;        /* of the first label */
  double pitch_x, pitch_y; /* from one label's edge to that of the next */
  double width, height;    /* of a label */
  gboolean cut;            /* plain paper: marks show where to cut */
} SwLabelSheet;

/* All of them, the first is plain paper to cut; *out_n. Measures that are common in the trade, from
 * memory: lay a print over the sheet before the labels are spent. Static. */
const SwLabelSheet *sw_label_sheets (gsize *out_n);
/* By name, or by measure: COLUMNSxROWS,LEFT,TOP,PITCHX,PITCHY,WIDTH,HEIGHT in millimetres with a
 * decimal point. Error: BAD_INPUT naming the sheets there are; labels that overlap, do not fit on
 * the page, or are too small for a code that a photo can be read from. */
gboolean sw_label_sheet_parse (const char *text, SwLabelSheet *out_sheet, GError **error);

G_END_DECLS
