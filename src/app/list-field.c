/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Blanks stand for the underscores of a name, and case does not count. */
#include "app/list-field.h"

#include <string.h>

#include "core/base/text.h"

/* What is typed, as names are written and compared. Transfer full. */
static char *
fold (const char *typed)
{
  g_autofree char *tidy = sw_text_tidy (typed);

  return g_utf8_casefold (g_strdelimit (tidy, " ", '_'), -1);
}

/* What is typed anywhere in the name, blanks for its underscores. */
static gboolean
matches (GtkEntryCompletion *completion, const char *typed, GtkTreeIter *iter, gpointer data)
{
  g_autofree char *name = NULL, *folded = NULL, *wanted = fold (typed);

  gtk_tree_model_get (gtk_entry_completion_get_model (completion), iter, 0, &name, -1);
  folded = g_utf8_casefold (name, -1);
  return strstr (folded, wanted) != NULL;
}

GtkListStore *
sw_list_field_set_up (GtkWidget *entry)
{
  g_autoptr (GtkEntryCompletion) completion = gtk_entry_completion_new ();
  GtkListStore *list = gtk_list_store_new (1, G_TYPE_STRING);

  gtk_entry_completion_set_model (completion, GTK_TREE_MODEL (list));
  gtk_entry_completion_set_text_column (completion, 0);
  gtk_entry_completion_set_match_func (completion, matches, NULL, NULL);
  gtk_entry_completion_set_popup_single_match (completion, FALSE);
  gtk_entry_set_completion (GTK_ENTRY (entry), completion);
  return list;
}

char *
sw_list_field_meant (GtkWidget *entry)
{
  g_autofree char *folded = fold (gtk_entry_get_text (GTK_ENTRY (entry)));
  g_autofree char *found = NULL;
  GtkTreeModel *model
      = gtk_entry_completion_get_model (gtk_entry_get_completion (GTK_ENTRY (entry)));
  GtkTreeIter iter;
  int n = 0;

  for (gboolean more = *folded != '\0' && gtk_tree_model_get_iter_first (model, &iter); more;
       more = gtk_tree_model_iter_next (model, &iter))
    {
      g_autofree char *name = NULL, *name_folded = NULL;
      gtk_tree_model_get (model, &iter, 0, &name, -1);
      name_folded = g_utf8_casefold (name, -1);
      if (g_str_equal (name_folded, folded))
        return g_steal_pointer (&name);
      if (strstr (name_folded, folded) == NULL)
        continue;
      n++;
      g_free (found);
      found = g_steal_pointer (&name);
    }
  return n == 1 ? g_steal_pointer (&found) : sw_text_tidy (gtk_entry_get_text (GTK_ENTRY (entry)));
}

void
sw_list_field_put (GtkWidget *entry, const char *text)
{
  g_autoptr (GtkEntryCompletion) list = NULL;

  if (g_str_equal (text, gtk_entry_get_text (GTK_ENTRY (entry))))
    return;
  list = g_object_ref (gtk_entry_get_completion (GTK_ENTRY (entry)));
  gtk_entry_set_completion (GTK_ENTRY (entry), NULL);
  gtk_entry_set_text (GTK_ENTRY (entry), text);
  gtk_entry_set_completion (GTK_ENTRY (entry), list);
}
