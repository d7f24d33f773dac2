/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Buttons in a flow, each a key and what it sets: for the pointer and for reading; the keyboard
 * stays where it is. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef struct
{
  const char *key;  /* shown before the word; NULL for none */
  const char *word; /* transfer none: copied */
  guint id;         /* told when it is taken */
  gboolean is_set;  /* marked so */
} SwKeyChoice;

typedef void (*SwKeyChoiceTaken) (gpointer data, guint id);

/* Shows these in the GtkFlowBox. Its buttons are kept and say what is to be said now: going from
 * one thing to the next makes none. */
void sw_key_choices_show (GtkWidget *flow, const SwKeyChoice *choices, guint n,
                          SwKeyChoiceTaken taken, gpointer data);

G_END_DECLS
