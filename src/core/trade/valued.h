/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What still stands, each with the best figure there is for its worth. Trade layer; read only. The
 * figures are the person's own; an appraisal is a licensed valuer's. */
#pragma once

#include "core/catalogue/items.h"

G_BEGIN_DECLS

typedef enum
{
  SW_VALUED_NOT,
  SW_VALUED_ASKING,  /* the asking price */
  SW_VALUED_LIKE,    /* what like things brought */
  SW_VALUED_PAID,    /* what was paid for it */
  SW_VALUED_GUESSED, /* a guess */
  SW_N_VALUED,
} SwValuedBy;
/* "asking price"; "not valued". Static. */
const char *sw_valued_word (SwValuedBy by);

typedef struct
{
  SwItem *item;
  SwValuedBy by;
  SwMoney value; /* of the whole count; unused with NOT */
} SwValuedItem;
void sw_valued_item_free (SwValuedItem *valued);

typedef struct
{
  GPtrArray *rows; /* SwValuedItem by place as the list of places has them, then number */
  SwMoney total;
  guint unvalued;
} SwValued;
void sw_valued_clear (SwValued *valued);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SwValued, sw_valued_clear)

/* The asking price goes before evidence, and evidence in the order above, the latest of a kind; for
 * other than the whole count it is taken in proportion, half-up. What it cost new is none: it says
 * nothing of what a used thing is worth. BAD_INPUT on overflow. */
gboolean sw_valued_read (SwCatalogue *catalogue, SwValued *out_valued, GError **error);

G_END_DECLS
