/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A combo box whose choice is an act. Arrow keys go through its rows, and each row passed is no act
 * of its own: a choice counts once the keys rest, or once the box is left. What is read anew
 * meanwhile does not move it under the person's hands, and a wheel that turns over it scrolls what
 * it stands in. */
#pragma once

#include <gtk/gtk.h>

#include "app/store.h"

G_BEGIN_DECLS

/* A choice that counts. Once it is done or refused the taker says so with sw_choice_settle. */
typedef void (*SwChoiceTake) (gpointer data, gint64 key);

/* Makes one of a GtkComboBoxText. store and data must outlive it. */
void sw_choice_set_up (GtkWidget *combo, SwStore *store, SwChoiceTake take, gpointer data);

/* The rows anew: begin, add each, end with the one that holds. The same rows as before are left
 * alone, and a choice that does not count yet stays. */
void sw_choice_begin (GtkWidget *combo);
void sw_choice_add (GtkWidget *combo, gint64 key, const char *text);
void sw_choice_end (GtkWidget *combo, gint64 key);

/* Before it stands for another thing, or goes: a choice that does not count yet is taken now. Until
 * the next sw_choice_end nothing can be chosen. */
void sw_choice_leave (GtkWidget *combo);
/* An SwActDone, owner: the combo. What was chosen is done, or was refused and goes back. */
void sw_choice_settle (gpointer combo, gboolean done);

G_END_DECLS
