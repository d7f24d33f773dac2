/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The family's account: what each person's part of the takings comes to, what each still gets, and
 * who owes whom, to the cent. Trade layer; read only.
 *
 *   to share = takings - costs + agreed values of things taken
 *   part     = to share by percent, largest remainder, ties to the person entered first
 *   due      = part + costs paid - advances - payouts - things taken */
#pragma once

#include "core/catalogue/shares.h"

G_BEGIN_DECLS

typedef struct
{
  char *person;
  gint64 share; /* of SW_SHARE_WHOLE; 0: none, named in entries only */
  SwMoney part, costs_paid, advances, payouts, taken;
  SwMoney due;   /* below zero: the person owes it */
  SwMoney holds; /* of the family's cash in hand */
} SwAccountRow;

typedef struct
{
  char *from, *to; /* NULL: the family's till, where nobody holds the money (bank, outlet, buyer) */
  SwMoney amount;
} SwTransfer;

typedef struct
{
  SwMoney takings, costs, taken, to_share;
  SwMoney owed;         /* part of the takings that buyers have not paid yet */
  SwMoney in_till;      /* what nobody holds: dues less cash held */
  gint64 standing;      /* items that may still bring something (sw_state_stands) */
  GPtrArray *rows;      /* SwAccountRow: shares in the order entered, then others by name */
  GPtrArray *transfers; /* SwTransfer: who pays whom so that everybody has what is due; from the
                           greatest debt to the greatest due, at most one fewer than there are
                           parties */
} SwAccount;
void sw_account_clear (SwAccount *account);
/* Whether it is the final account, in one sentence; else what is still to come. Transfer full. */
char *sw_account_final_words (const SwAccount *account, SwCurrency currency);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SwAccount, sw_account_clear)

/* REFUSED with a sentence while the shares do not add up to 100 % (or there are none). A loss is
 * shared like a gain. Error: BAD_INPUT on overflow. */
gboolean sw_account_read (SwCatalogue *catalogue, SwAccount *out_account, GError **error);

G_END_DECLS
