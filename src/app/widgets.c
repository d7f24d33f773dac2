/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Few lines that several views need around stock widgets. */
#include "app/widgets.h"

static void
destroy (GtkWidget *widget, gpointer data)
{
  gtk_widget_destroy (widget);
}

void
sw_container_empty (GtkWidget *container)
{
  gtk_container_foreach (GTK_CONTAINER (container), destroy, NULL);
  /* What is added while it is hidden queues nothing, nor does showing it: the height that it had
   * while it was empty would stand. */
  gtk_widget_queue_resize (container);
}

GtkWidget *
sw_container_add_line (GtkWidget *container, const char *text, const char *class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_line_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_line_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  if (class != NULL)
    gtk_style_context_add_class (gtk_widget_get_style_context (label), class);
  gtk_widget_show (label);
  gtk_container_add (GTK_CONTAINER (container), label);
  return label;
}

GtkWidget *
sw_scrolled_new (GtkWidget *inner, GtkOrientation way, int most)
{
  GtkWidget *widget = gtk_scrolled_window_new (NULL, NULL);
  GtkScrolledWindow *scrolled = GTK_SCROLLED_WINDOW (widget);
  gboolean across = way == GTK_ORIENTATION_HORIZONTAL;

  gtk_scrolled_window_set_policy (scrolled, across ? GTK_POLICY_AUTOMATIC : GTK_POLICY_NEVER,
                                  across ? GTK_POLICY_NEVER : GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (scrolled, TRUE);
  gtk_container_add (GTK_CONTAINER (widget), inner);
  if (across)
    {
      gtk_scrolled_window_set_propagate_natural_width (scrolled, TRUE);
      gtk_scrolled_window_set_max_content_width (scrolled, most);
      gtk_container_set_focus_hadjustment (GTK_CONTAINER (inner),
                                           gtk_scrolled_window_get_hadjustment (scrolled));
    }
  else
    {
      gtk_scrolled_window_set_max_content_height (scrolled, most);
      gtk_container_set_focus_vadjustment (GTK_CONTAINER (inner),
                                           gtk_scrolled_window_get_vadjustment (scrolled));
    }
  return widget;
}

GtkWidget *
sw_container_add_wide_line (GtkWidget *container, const char *text, const char *class,
                            int width_chars)
{
  GtkWidget *label = sw_container_add_line (container, text, class);

  gtk_label_set_width_chars (GTK_LABEL (label), width_chars);
  gtk_label_set_max_width_chars (GTK_LABEL (label), width_chars);
  return label;
}

void
sw_combo_ellipsize (GtkWidget *combo)
{
  g_autoptr (GList) cells = gtk_cell_layout_get_cells (GTK_CELL_LAYOUT (combo));

  for (GList *l = cells; l != NULL; l = l->next)
    if (GTK_IS_CELL_RENDERER_TEXT (l->data))
      g_object_set (l->data, "ellipsize", PANGO_ELLIPSIZE_END, NULL);
}

void
sw_combo_keep_keyboard (GtkWidget *combo)
{
  gtk_combo_box_set_button_sensitivity (GTK_COMBO_BOX (combo), GTK_SENSITIVITY_ON);
}

static gboolean
let_go (gpointer dialog)
{
  g_object_unref (dialog);
  return G_SOURCE_REMOVE;
}

void
sw_native_dialog_done (GtkNativeDialog *dialog)
{
  g_idle_add (let_go, dialog);
}

double
sw_widget_text_scale (GtkWidget *widget)
{
  return MAX (gdk_screen_get_resolution (gtk_widget_get_screen (widget)) / 96, 1);
}

/* GTK's icon theme looks at its folders again and again: what was loaded is kept until the theme
 * says that it is another. */
static GHashTable *
icons (void)
{
  static GHashTable *kept; /* "name colour scale" -> cairo_surface_t, NULL where there is none */

  if (kept == NULL)
    {
      kept = g_hash_table_new_full (g_str_hash, g_str_equal, g_free,
                                    (GDestroyNotify)cairo_surface_destroy);
      g_signal_connect_swapped (gtk_icon_theme_get_default (), "changed",
                                G_CALLBACK (g_hash_table_remove_all), kept);
    }
  return kept;
}

static cairo_surface_t *
load_icon (GtkStyleContext *style, const char *name, int scale)
{
  g_autoptr (GtkIconInfo) info = gtk_icon_theme_lookup_icon_for_scale (
      gtk_icon_theme_get_default (), name, SW_ICON_SIDE, scale, GTK_ICON_LOOKUP_FORCE_SIZE);
  g_autoptr (GdkPixbuf) pixbuf
      = info != NULL ? gtk_icon_info_load_symbolic_for_context (info, style, NULL, NULL) : NULL;

  return pixbuf != NULL ? gdk_cairo_surface_create_from_pixbuf (pixbuf, scale, NULL) : NULL;
}

cairo_surface_t *
sw_icon_surface (GtkWidget *widget, const char *name)
{
  GtkStyleContext *style = gtk_widget_get_style_context (widget);
  int scale = gtk_widget_get_scale_factor (widget);
  g_autofree char *colour = NULL, *key = NULL;
  gpointer surface = NULL;
  GdkRGBA rgba;

  gtk_style_context_get_color (style, gtk_style_context_get_state (style), &rgba);
  colour = gdk_rgba_to_string (&rgba);
  key = g_strdup_printf ("%s %s %d", name, colour, scale);
  if (!g_hash_table_lookup_extended (icons (), key, NULL, &surface))
    {
      surface = load_icon (style, name, scale);
      g_hash_table_insert (icons (), g_steal_pointer (&key), surface);
    }
  return surface != NULL ? cairo_surface_reference (surface) : NULL;
}

void
sw_draw_icon (GtkWidget *widget, cairo_t *cr, const char *name, int x, int y)
{
  cairo_surface_t *surface = sw_icon_surface (widget, name);

  if (surface == NULL)
    return;
  gtk_render_icon_surface (gtk_widget_get_style_context (widget), cr, surface, x, y);
  cairo_surface_destroy (surface);
}

void
sw_widget_realize (GtkWidget *widget, GdkEventMask events)
{
  GtkAllocation at;
  GdkWindowAttr attributes = { 0 };
  GdkWindow *window;

  gtk_widget_set_realized (widget, TRUE);
  gtk_widget_get_allocation (widget, &at);
  attributes.x = at.x;
  attributes.y = at.y;
  attributes.width = at.width;
  attributes.height = at.height;
  attributes.window_type = GDK_WINDOW_CHILD;
  attributes.wclass = GDK_INPUT_OUTPUT;
  attributes.visual = gtk_widget_get_visual (widget);
  attributes.event_mask = gtk_widget_get_events (widget) | (int)events;
  window = gdk_window_new (gtk_widget_get_parent_window (widget), &attributes,
                           GDK_WA_X | GDK_WA_Y | GDK_WA_VISUAL);
  gtk_widget_set_window (widget, window);
  gtk_widget_register_window (widget, window);
}
