/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The fields as one table, their widgets, and the words that typing is completed from. */
#include "app/decide-form-private.h"

#include "app/decide-words.h"
#include "core/base/language.h"

#include <string.h>

const SwDecideSpec sw_decide_specs[SW_N_DECIDE_FIELDS] = {
  [SW_DECIDE_NAME] = { N_ ("_Name"), TRUE, FALSE, FALSE },
  [SW_DECIDE_COUNT] = { N_ ("_Count"), TRUE, FALSE, FALSE },
  [SW_DECIDE_CONDITION] = { N_ ("C_ondition"), TRUE, TRUE, FALSE },
  [SW_DECIDE_WRONG] = { N_ ("What is _wrong"), TRUE, TRUE, FALSE },
  [SW_DECIDE_LIFTED] = { N_ ("_Lifted by"), FALSE, FALSE, FALSE },
  [SW_DECIDE_RIDES] = { N_ ("_Rides on"), FALSE, FALSE, FALSE },
  [SW_DECIDE_DANGER] = { N_ ("_Dangers"), FALSE, TRUE, TRUE },
  [SW_DECIDE_ASK] = { N_ ("_Ask"), FALSE, FALSE, TRUE },
  [SW_DECIDE_OUTLET] = { N_ ("O_utlet"), FALSE, FALSE, FALSE },
  [SW_DECIDE_PRICE] = { N_ ("_Price"), TRUE, FALSE, FALSE },
  [SW_DECIDE_JOB] = { N_ ("_Job on site"), FALSE, FALSE, TRUE },
};

/* In lower case. */
gunichar
sw_decide_form_key_of (int i)
{
  const char *at = strchr (_ (sw_decide_specs[i].label), '_');

  return at != NULL ? g_unichar_tolower (g_utf8_get_char (at + 1)) : 0;
}

/* ---- completion ---- */

static gboolean
on_match (GtkEntryCompletion *completion, GtkTreeModel *model, GtkTreeIter *iter, gpointer data)
{
  GtkWidget *entry = gtk_entry_completion_get_entry (completion);
  g_autofree char *word = NULL;

  gtk_tree_model_get (model, iter, 0, &word, -1);
  gtk_entry_set_text (GTK_ENTRY (entry), word);
  gtk_editable_set_position (GTK_EDITABLE (entry), -1);
  return GDK_EVENT_STOP;
}

GtkEntryCompletion *
sw_decide_form_new_completion (void)
{
  GtkEntryCompletion *completion = gtk_entry_completion_new ();

  gtk_entry_completion_set_text_column (completion, 0);
  gtk_entry_completion_set_minimum_key_length (completion, 2);
  g_signal_connect (completion, "match-selected", G_CALLBACK (on_match), NULL);
  return completion;
}

static gboolean
same_words (const GPtrArray *a, const GPtrArray *b)
{
  if (a == NULL || b == NULL || a->len != b->len)
    return FALSE;
  for (guint k = 0; k < a->len; k++)
    if (strcmp (g_ptr_array_index (a, k), g_ptr_array_index (b, k)) != 0)
      return FALSE;
  return TRUE;
}

static void
fill_completion (SwDecideForm *self, const GPtrArray *words)
{
  g_autoptr (GtkListStore) store = gtk_list_store_new (1, G_TYPE_STRING);

  for (guint k = 0; words != NULL && k < words->len; k++)
    gtk_list_store_insert_with_values (store, NULL, -1, 0, g_ptr_array_index (words, k), -1);
  gtk_entry_completion_set_model (self->completion, GTK_TREE_MODEL (store));
}

/* The completion goes where the keyboard goes. */
void
sw_decide_form_complete_in (SwDecideForm *self, int i)
{
  GtkWidget *before = gtk_entry_completion_get_entry (self->completion);

  if (before != NULL)
    gtk_entry_set_completion (GTK_ENTRY (before), NULL);
  if (i == NO_FIELD)
    return;
  fill_completion (self, self->fields[i].words);
  gtk_entry_set_completion (GTK_ENTRY (self->fields[i].entry), self->completion);
}

void
sw_decide_form_keep_words (SwDecideForm *self, int i)
{
  SwDecideRow *field = &self->fields[i];
  g_autoptr (GPtrArray) words = sw_decide_completion (self->data, (SwDecideField)i);

  if (same_words (field->words, words))
    return;
  g_clear_pointer (&field->words, g_ptr_array_unref);
  field->words = g_ptr_array_new_with_free_func (g_free);
  for (guint k = 0; k < words->len; k++)
    g_ptr_array_add (field->words, g_strdup (g_ptr_array_index (words, k)));
  if (gtk_entry_completion_get_entry (self->completion) == field->entry)
    fill_completion (self, field->words);
}

/* ---- widgets ---- */

GtkWidget *
sw_decide_form_new_label (const char *class)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_style_context_add_class (gtk_widget_get_style_context (label), class);
  return label;
}

GtkWidget *
sw_decide_form_new_flow (const char *name)
{
  GtkWidget *flow = gtk_flow_box_new ();

  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (flow), GTK_SELECTION_NONE);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (flow), 12);
  gtk_flow_box_set_row_spacing (GTK_FLOW_BOX (flow), 2);
  gtk_flow_box_set_column_spacing (GTK_FLOW_BOX (flow), 4);
  atk_object_set_name (gtk_widget_get_accessible (flow), name);
  return flow;
}

void
sw_decide_form_add_row (SwDecideForm *self, int i)
{
  SwDecideRow *field = &self->fields[i];
  char key[7] = "";
  GtkWidget *cap = sw_decide_form_new_label ("sw-key"),
            *label = gtk_label_new_with_mnemonic (_ (sw_decide_specs[i].label));
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  g_unichar_to_utf8 (g_unichar_toupper (sw_decide_form_key_of (i)), key);
  field->entry = gtk_entry_new ();
  field->note = sw_decide_form_new_label (GTK_STYLE_CLASS_DIM_LABEL);
  field->standing = sw_decide_form_new_label ("sw-standing");
  gtk_label_set_text (GTK_LABEL (cap), key);
  gtk_label_set_xalign (GTK_LABEL (cap), 0.5f);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), field->entry);
  gtk_label_set_line_wrap (GTK_LABEL (field->standing), TRUE);
  gtk_label_set_line_wrap_mode (GTK_LABEL (field->standing), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_max_width_chars (GTK_LABEL (field->standing), 30);
  gtk_label_set_ellipsize (GTK_LABEL (field->note), PANGO_ELLIPSIZE_END);
  gtk_label_set_max_width_chars (GTK_LABEL (field->note), 14);
  gtk_widget_set_no_show_all (field->standing, TRUE);
  gtk_label_set_width_chars (GTK_LABEL (field->note), 8);
  gtk_entry_set_width_chars (GTK_ENTRY (field->entry), 10);
  gtk_entry_set_max_width_chars (GTK_ENTRY (field->entry), 26);
  gtk_widget_set_hexpand (box, TRUE);
  gtk_widget_set_valign (cap, GTK_ALIGN_START);
  gtk_widget_set_valign (label, GTK_ALIGN_START);
  gtk_widget_set_valign (field->note, GTK_ALIGN_START);
  for (GtkWidget *const *each = (GtkWidget *const[]){ cap, label, field->note, NULL };
       *each != NULL; each++)
    gtk_widget_set_margin_top (*each, 4);
  gtk_container_add (GTK_CONTAINER (box), field->entry);
  gtk_container_add (GTK_CONTAINER (box), field->standing);
  gtk_grid_attach (GTK_GRID (self->grid), cap, 0, i, 1, 1);
  gtk_grid_attach (GTK_GRID (self->grid), label, 1, i, 1, 1);
  gtk_grid_attach (GTK_GRID (self->grid), box, 2, i, 1, 1);
  gtk_grid_attach (GTK_GRID (self->grid), field->note, 3, i, 1, 1);
}

void
sw_decide_form_add_teller (SwDecideForm *self)
{
  GtkWidget *label = gtk_label_new (_ ("Told by"));

  self->teller_row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  self->teller = gtk_entry_new ();
  gtk_label_set_mnemonic_widget (GTK_LABEL (label), self->teller);
  gtk_container_add (GTK_CONTAINER (self->teller_row), label);
  gtk_box_pack_start (GTK_BOX (self->teller_row), self->teller, TRUE, TRUE, 0);
  gtk_widget_show_all (self->teller_row);
  gtk_widget_set_no_show_all (self->teller_row, TRUE);
  gtk_widget_hide (self->teller_row);
}
