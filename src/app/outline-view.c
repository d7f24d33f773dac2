/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A text view whose Tab and Enter keep the indentation of a list. What the list means is read by
 * core/base/outline.h. */
#include "app/outline-view.h"

#include <string.h>

#define STEP "  "

struct _SwOutlineView
{
  GtkOverlay parent;
  GtkWidget *view, *example;
};

enum
{
  CHANGED,
  DONE,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwOutlineView, sw_outline_view, GTK_TYPE_OVERLAY)

static GtkTextBuffer *
buffer_of (SwOutlineView *self)
{
  return gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->view));
}

static void
start_of_line (GtkTextBuffer *buffer, GtkTextIter *out)
{
  gtk_text_buffer_get_iter_at_mark (buffer, out, gtk_text_buffer_get_insert (buffer));
  gtk_text_iter_set_line_offset (out, 0);
}

static gboolean
is_blank (gunichar c)
{
  return c == ' ' || c == '\t';
}

/* The end of the blanks that the line of 'start' begins with. */
static GtkTextIter
end_of_indent (const GtkTextIter *start)
{
  GtkTextIter end = *start;

  while (!gtk_text_iter_ends_line (&end) && is_blank (gtk_text_iter_get_char (&end)))
    gtk_text_iter_forward_char (&end);
  return end;
}

static void
set_in (GtkTextBuffer *buffer)
{
  GtkTextIter start;

  start_of_line (buffer, &start);
  gtk_text_buffer_insert (buffer, &start, STEP, -1);
}

static void
set_out (GtkTextBuffer *buffer)
{
  GtkTextIter start, end;

  start_of_line (buffer, &start);
  end = start;
  for (gsize i = 0; i < strlen (STEP) && !gtk_text_iter_ends_line (&end)
                    && is_blank (gtk_text_iter_get_char (&end));
       i++)
    {
      gboolean is_tab = gtk_text_iter_get_char (&end) == '\t';
      gtk_text_iter_forward_char (&end);
      if (is_tab)
        break;
    }
  gtk_text_buffer_delete (buffer, &start, &end);
}

static void
begin_line (GtkTextBuffer *buffer)
{
  GtkTextIter start, end;
  g_autofree char *indent = NULL, *text = NULL;

  start_of_line (buffer, &start);
  end = end_of_indent (&start);
  indent = gtk_text_iter_get_text (&start, &end);
  text = g_strconcat ("\n", indent, NULL);
  gtk_text_buffer_delete_selection (buffer, TRUE, TRUE);
  gtk_text_buffer_insert_at_cursor (buffer, text, -1);
}

static gboolean
on_key (GtkWidget *view, GdkEventKey *event, SwOutlineView *self)
{
  GdkModifierType held = event->state & gtk_accelerator_get_default_mod_mask ();
  GtkTextBuffer *buffer = buffer_of (self);

  switch (event->keyval)
    {
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
      if (held == GDK_CONTROL_MASK)
        g_signal_emit (self, signals[DONE], 0);
      else if (held == 0)
        begin_line (buffer);
      else
        return FALSE;
      break;
    case GDK_KEY_Tab:
      if (held != 0)
        return FALSE; /* with Ctrl it leaves, as from any text view */
      set_in (buffer);
      break;
    case GDK_KEY_ISO_Left_Tab:
      if (held & GDK_CONTROL_MASK)
        return FALSE;
      set_out (buffer);
      break;
    default:
      return FALSE;
    }
  gtk_text_view_scroll_mark_onscreen (GTK_TEXT_VIEW (view), gtk_text_buffer_get_insert (buffer));
  return TRUE;
}

static void
on_changed (SwOutlineView *self)
{
  gtk_widget_set_visible (self->example, gtk_text_buffer_get_char_count (buffer_of (self)) == 0);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
grab_focus (GtkWidget *widget)
{
  gtk_widget_grab_focus (SW_OUTLINE_VIEW (widget)->view);
}

static void
sw_outline_view_class_init (SwOutlineViewClass *klass)
{
  GTK_WIDGET_CLASS (klass)->grab_focus = grab_focus;
  signals[CHANGED] = g_signal_new ("changed", SW_TYPE_OUTLINE_VIEW, G_SIGNAL_RUN_LAST, 0, NULL,
                                   NULL, NULL, G_TYPE_NONE, 0);
  signals[DONE] = g_signal_new ("done", SW_TYPE_OUTLINE_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                NULL, G_TYPE_NONE, 0);
}

static void
sw_outline_view_init (SwOutlineView *self)
{
  GtkWidget *scroller = gtk_scrolled_window_new (NULL, NULL);
  const int margin = 8;

  self->view = gtk_text_view_new ();
  gtk_text_view_set_left_margin (GTK_TEXT_VIEW (self->view), margin);
  gtk_text_view_set_top_margin (GTK_TEXT_VIEW (self->view), margin);
  gtk_text_view_set_bottom_margin (GTK_TEXT_VIEW (self->view), margin);
  gtk_text_view_set_wrap_mode (GTK_TEXT_VIEW (self->view), GTK_WRAP_WORD_CHAR);
  gtk_scrolled_window_set_shadow_type (GTK_SCROLLED_WINDOW (scroller), GTK_SHADOW_IN);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_container_add (GTK_CONTAINER (scroller), self->view);
  gtk_container_add (GTK_CONTAINER (self), scroller);
  self->example = gtk_label_new (NULL);
  gtk_widget_set_halign (self->example, GTK_ALIGN_START);
  gtk_widget_set_valign (self->example, GTK_ALIGN_START);
  gtk_widget_set_margin_start (self->example, margin + 1);
  gtk_widget_set_margin_top (self->example, margin + 1);
  gtk_style_context_add_class (gtk_widget_get_style_context (self->example), "sw-example");
  gtk_overlay_add_overlay (GTK_OVERLAY (self), self->example);
  gtk_overlay_set_overlay_pass_through (GTK_OVERLAY (self), self->example, TRUE);
  gtk_widget_show_all (GTK_WIDGET (self));
  g_signal_connect (self->view, "key-press-event", G_CALLBACK (on_key), self);
  g_signal_connect_object (buffer_of (self), "changed", G_CALLBACK (on_changed), self,
                           G_CONNECT_SWAPPED);
}

GtkWidget *
sw_outline_view_new (const char *name, const char *example)
{
  SwOutlineView *self = g_object_new (SW_TYPE_OUTLINE_VIEW, NULL);

  atk_object_set_name (gtk_widget_get_accessible (self->view), name);
  gtk_label_set_text (GTK_LABEL (self->example), example);
  return GTK_WIDGET (self);
}

char *
sw_outline_view_get_text (SwOutlineView *self)
{
  GtkTextIter start, end;

  gtk_text_buffer_get_bounds (buffer_of (self), &start, &end);
  return gtk_text_buffer_get_text (buffer_of (self), &start, &end, FALSE);
}

void
sw_outline_view_set_text (SwOutlineView *self, const char *text)
{
  gtk_text_buffer_set_text (buffer_of (self), text, -1);
}

/* A value set directly ends the animation to another one. */
void
sw_outline_view_stop_scrolling (SwOutlineView *self)
{
  GtkAdjustment *rolled = gtk_scrollable_get_vadjustment (GTK_SCROLLABLE (self->view));

  gtk_adjustment_set_value (rolled, gtk_adjustment_get_value (rolled));
}

int
sw_outline_view_count (SwOutlineView *self)
{
  g_autofree char *text = sw_outline_view_get_text (self);
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  int n = 0;

  for (int i = 0; lines[i] != NULL; i++)
    n += *g_strstrip (lines[i]) != '\0';
  return n;
}
