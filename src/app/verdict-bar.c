/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Buttons by core's table of verdicts. */
#include "app/verdict-bar.h"

#include <string.h>

#include "app/night.h"
#include "app/text.h"
#include "core/base/text.h"

struct _SwVerdictBar
{
  GtkFlowBox parent;
};

G_DEFINE_TYPE (SwVerdictBar, sw_verdict_bar, GTK_TYPE_FLOW_BOX)

static guint chosen_signal;

/* "give away" and g: "<u>G</u>ive away". Transfer full. */
static char *
with_key_marked (const char *word, char letter)
{
  const char letters[] = { letter, g_ascii_toupper (letter), '\0' };
  g_autofree char *label = sw_text_capital (word);
  const char *at = strpbrk (label, letters);

  if (at == NULL) /* no letter of that language's word; the button's own form says it */
    return g_strdup_printf ("%s (<u>%c</u>)", label, g_ascii_toupper (letter));
  return g_strdup_printf ("%.*s<u>%c</u>%s", (int)(at - label), label, *at, at + 1);
}

void
sw_mark_key (GtkWidget *button, const char *word, char letter)
{
  g_autofree char *markup = with_key_marked (word, letter);
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_markup (GTK_LABEL (label), markup);
  gtk_container_add (GTK_CONTAINER (button), label);
  gtk_widget_show (label);
  atk_object_set_name (gtk_widget_get_accessible (button), gtk_label_get_text (GTK_LABEL (label)));
}

#define VERDICT "sw-verdict"

static void
on_clicked (GtkWidget *button, SwVerdictBar *self)
{
  g_signal_emit (self, chosen_signal, 0,
                 GPOINTER_TO_INT (g_object_get_data (G_OBJECT (button), VERDICT)));
}

static void
add_button (SwVerdictBar *self, SwVerdict verdict)
{
  GtkWidget *button = gtk_button_new (), *child;

  sw_mark_key (button, _ (sw_verdict_word (verdict)), sw_night_key_of_verdict (verdict));
  g_object_set_data (G_OBJECT (button), VERDICT, GINT_TO_POINTER ((int)verdict));
  g_signal_connect (button, "clicked", G_CALLBACK (on_clicked), self);
  gtk_container_add (GTK_CONTAINER (self), button);
  child = gtk_widget_get_parent (button);
  gtk_widget_set_can_focus (child, FALSE);
  atk_object_set_role (gtk_widget_get_accessible (child), ATK_ROLE_FILLER);
  gtk_widget_show_all (child);
}

static void
sw_verdict_bar_class_init (SwVerdictBarClass *klass)
{
  chosen_signal = g_signal_new ("chosen", SW_TYPE_VERDICT_BAR, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                NULL, G_TYPE_NONE, 1, G_TYPE_INT);
}

static void
sw_verdict_bar_init (SwVerdictBar *self)
{
  GtkFlowBox *flow = GTK_FLOW_BOX (self);

  gtk_flow_box_set_selection_mode (flow, GTK_SELECTION_NONE);
  gtk_flow_box_set_column_spacing (flow, 4);
  gtk_flow_box_set_row_spacing (flow, 4);
  gtk_flow_box_set_min_children_per_line (flow, 2);
  gtk_flow_box_set_max_children_per_line (flow, SW_N_VERDICTS);
  gtk_style_context_add_class (gtk_widget_get_style_context (GTK_WIDGET (self)), "sw-tight");
  gtk_widget_set_can_focus (GTK_WIDGET (self), FALSE);
  atk_object_set_role (gtk_widget_get_accessible (GTK_WIDGET (self)), ATK_ROLE_PANEL);
  atk_object_set_name (gtk_widget_get_accessible (GTK_WIDGET (self)), _ ("What becomes of it"));
  for (int verdict = 0; verdict < SW_N_VERDICTS; verdict++)
    add_button (self, (SwVerdict)verdict);
}
