/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The start view. Making and opening are the window's business. */
#include "app/start-page.h"

#include "app/text.h"
#include "app/widgets.h"

#define MAX_RECENT 6

struct _SwStartPage
{
  GtkBox parent;
  GtkWidget *problem, *recent_box, *recent;
};

enum
{
  OPEN,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwStartPage, sw_start_page, GTK_TYPE_BOX)

/* ---- recent ---- */

static void
on_recent_activated (GtkListBox *list, GtkListBoxRow *row, SwStartPage *self)
{
  const char *folder = g_object_get_data (G_OBJECT (row), "sw-folder");

  g_signal_emit (self, signals[OPEN], 0, folder);
}

static void
add_recent (SwStartPage *self, const char *folder)
{
  GtkWidget *row = gtk_list_box_row_new ();
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 1);
  g_autofree char *base = g_path_get_basename (folder);
  g_autofree char *parent = g_path_get_dirname (folder);
  g_autofree char *sentence = NULL;
  GtkWidget *name, *where = gtk_label_new (parent);

  if (g_str_has_suffix (base, ".shedwalk"))
    base[strlen (base) - strlen (".shedwalk")] = '\0';
  name = gtk_label_new (base);
  gtk_label_set_xalign (GTK_LABEL (name), 0);
  gtk_label_set_xalign (GTK_LABEL (where), 0);
  gtk_label_set_ellipsize (GTK_LABEL (name), PANGO_ELLIPSIZE_END);
  gtk_label_set_ellipsize (GTK_LABEL (where), PANGO_ELLIPSIZE_START);
  gtk_style_context_add_class (gtk_widget_get_style_context (where), GTK_STYLE_CLASS_DIM_LABEL);
  gtk_container_set_border_width (GTK_CONTAINER (box), 8);
  gtk_container_add (GTK_CONTAINER (box), name);
  gtk_container_add (GTK_CONTAINER (box), where);
  gtk_container_add (GTK_CONTAINER (row), box);
  sentence = g_strdup_printf (_ ("%s in %s"), base, parent);
  atk_object_set_name (gtk_widget_get_accessible (row), sentence);
  g_object_set_data_full (G_OBJECT (row), "sw-folder", g_strdup (folder), g_free);
  gtk_widget_show_all (row);
  gtk_container_add (GTK_CONTAINER (self->recent), row);
}

void
sw_start_page_refresh (SwStartPage *self)
{
  GList *infos = gtk_recent_manager_get_items (gtk_recent_manager_get_default ());
  int n = 0;

  sw_container_empty (self->recent);
  for (GList *l = infos; l != NULL && n < MAX_RECENT; l = l->next)
    {
      g_autofree char *path = g_filename_from_uri (gtk_recent_info_get_uri (l->data), NULL, NULL);
      if (path == NULL || !gtk_recent_info_has_group (l->data, "Shedwalk")
          || !gtk_recent_info_exists (l->data))
        continue;
      add_recent (self, path);
      n++;
    }
  gtk_widget_set_visible (self->recent_box, n > 0);
  g_list_free_full (infos, (GDestroyNotify)gtk_recent_info_unref);
}

#define BIND(name) gtk_widget_class_bind_template_child (widget, SwStartPage, name)

static void
sw_start_page_class_init (SwStartPageClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  signals[OPEN] = g_signal_new ("open", SW_TYPE_START_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                G_TYPE_NONE, 1, G_TYPE_STRING);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/start-page.ui");
  BIND (problem);
  BIND (recent_box);
  BIND (recent);
  gtk_widget_class_bind_template_callback (widget, on_recent_activated);
}

static void
sw_start_page_init (SwStartPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  sw_start_page_refresh (self);
}

void
sw_start_page_set_problem (SwStartPage *self, const char *sentence)
{
  gtk_label_set_text (GTK_LABEL (self->problem), sentence != NULL ? sentence : "");
  gtk_widget_set_visible (self->problem, sentence != NULL);
}

const char *
sw_start_page_get_problem (SwStartPage *self)
{
  return gtk_widget_get_visible (self->problem) ? gtk_label_get_text (GTK_LABEL (self->problem))
                                                : NULL;
}
