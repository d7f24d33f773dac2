/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sheets on paper: laid out on the catalogue thread, sent by the system's print window. */
#pragma once

#include "app/store.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* What is laid out and how a page of it is drawn. */
typedef struct
{
  const char *title; /* as the printer's queue shows it; marked for translation */
  GtkUnit unit;      /* of the context that draw is given */
  /* Page 0 to n_pages - 1, the whole paper from its corner. Main thread. */
  gboolean (*draw) (gpointer sheet, int page, cairo_t *cr, GError **error);
  GDestroyNotify free; /* of the sheet */
} SwPrinting;

/* A sheet laid out. 'done' says what was sent once it is. Takes both. */
typedef struct _SwPrintout SwPrintout;
SwPrintout *sw_printout_new (const SwPrinting *printing, gpointer sheet, int n_pages, char *done);

/* lay_out makes an SwPrintout of data on the catalogue thread; the print window then opens over
 * 'parent'. It never blocks; what came of it is told at the foot of the window. */
void sw_printing_ask (GtkWindow *parent, SwStore *store, SwWorkFunc lay_out, gpointer data,
                      GDestroyNotify destroy);

G_END_DECLS
