/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The verdicts for what did not sell as buttons, each with its key underlined. */
#pragma once

#include <gtk/gtk.h>

#include "core/trade/run-sheet.h"

G_BEGIN_DECLS

#define SW_TYPE_VERDICT_BAR (sw_verdict_bar_get_type ())
G_DECLARE_FINAL_TYPE (SwVerdictBar, sw_verdict_bar, SW, VERDICT_BAR, GtkFlowBox)

/* Signal "chosen" (int verdict): its button was pressed. Keys are their owner's business. */

/* Writes the word on the button with the letter underlined, whether Alt is held or not: it needs no
 * Alt. The word is its accessible name. */
void sw_mark_key (GtkWidget *button, const char *word, char letter);

G_END_DECLS
