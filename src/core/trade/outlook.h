/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The outlook for an item, outlet by outlet: how likely it sells there, what that would leave after
 * fees and cartage, from the person's own record of ended offers. It shows its figures and never
 * decides. Trade layer; read only. The model is outlook-model.h's. */
#pragma once

#include "core/catalogue/items.h"
#include "core/catalogue/outlets.h"

G_BEGIN_DECLS

/* With fewer ended offers in the outlet the window says 'too few to tell' beside the figures. */
#define SW_OUTLOOK_FEW 5

typedef struct
{
  gint64 outlet;
  char *name;
  int cases, sold;          /* ended offers in this outlet, and those of them that sold */
  gboolean few;             /* cases < SW_OUTLOOK_FEW */
  double chance, low, high; /* that an offer of the item sells; 80 % interval */
  gboolean has_money;       /* FALSE without an asking price */
  SwMoney price;            /* expected where it sells */
  SwMoney fees;             /* of that price */
  SwMoney unsold_fees;      /* owed without a sale */
  SwMoney cartage;          /* to where it is sold, where it must be carried there; else 0 */
  SwMoney expected;         /* chance x (price - fees - cartage) - (1 - chance) x unsold fees */
} SwOutlook;
void sw_outlook_free (SwOutlook *outlook);

/* What was learned from the record as it stands; for one item or a whole list of them. */
typedef struct _SwOutlookBook SwOutlookBook;
SwOutlookBook *sw_outlook_learn (SwCatalogue *catalogue, GError **error);
void sw_outlook_book_free (SwOutlookBook *book);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwOutlookBook, sw_outlook_book_free)

/* GPtrArray of SwOutlook, one an outlet that sells (yards and gifts are none), the greatest
 * expected money first, those without money last by name. Terms and yard loads of today count.
 * Transfer full. */
GPtrArray *sw_outlook_of (SwOutlookBook *book, const SwItem *item, GError **error);

G_END_DECLS
