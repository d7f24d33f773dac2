/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Facts of the money entered in the window, each as a row of the money table: a sale by hand, a
 * result, payments, an outlet and its charges. One table says which fields each asks for. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

typedef enum
{
  SW_SLIP_SALE,
  SW_SLIP_RESULT,
  SW_SLIP_COLLECTED,
  SW_SLIP_REVERSAL,
  SW_SLIP_FEE,
  SW_SLIP_OUTLET,
  SW_SLIP_CHARGE,
  SW_N_SLIPS
} SwSlipKind;

/* 'of': the ref that the row speaks of, or the outlet of a charge; NULL with a sale and an outlet.
 * 'about': a line over the fields, or NULL. 'begun': values of the fields in the order of the
 * table, or NULL. */
void sw_slip_form_show (GtkWindow *parent, SwStore *store, SwSlipKind kind, const char *of,
                        const char *about, const char *const *begun);
/* A sale without an offer, to that buyer (NULL: nobody known). */
void sw_slip_form_show_sale (GtkWindow *parent, SwStore *store, const char *about,
                             const char *buyer);

G_END_DECLS
