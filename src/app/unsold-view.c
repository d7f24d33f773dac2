/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Goes through the unsold items; the figures are core's, the decision the person's. */
#include "app/unsold-view.h"

#include "app/night.h"
#include "app/offer-acts.h"
#include "app/offer-words.h"
#include "app/side-box.h"
#include "app/text.h"
#include "app/verdict-bar.h"
#include "app/widgets.h"
#include "core/trade/unsold.h"

struct _SwUnsoldView
{
  GtkBox parent;
  SwStore *store;
  SwPictures *pictures;
  GPtrArray *items; /* SwUnsold */
  gint64 shown;     /* item number; 0: none */
  guint at;         /* its place in the list */
  GtkWidget *stack, *where, *name, *photo, *facts, *floor_box, *floor_word, *floor_words, *outlook,
      *verdicts, *before, *next;
};

G_DEFINE_TYPE (SwUnsoldView, sw_unsold_view, GTK_TYPE_BOX)

static const SwUnsold *
current (SwUnsoldView *self)
{
  return self->items != NULL && self->at < self->items->len
             ? g_ptr_array_index (self->items, self->at)
             : NULL;
}

/* ---- what is known of it ---- */

static void
fill_facts (SwUnsoldView *self, const SwUnsold *unsold)
{
  g_autofree char *asked = unsold->has_asked ? sw_store_money_with_code (self->store, unsold->asked)
                                             : g_strdup (_ ("no price"));
  g_autofree char *day = unsold->ref != NULL ? sw_day_written (unsold->ended) : NULL;
  g_autofree char *interest = sw_words_interest (self->store, &unsold->interest);
  g_autofree char *mass = unsold->item->has_mass ? sw_mass_to_text (unsold->item->mass) : NULL;
  g_autofree char *first
      = unsold->ref == NULL ? g_strdup_printf (_ ("Asked %s; its sale fell through"), asked)
                            : g_strdup_printf (unsold->fell_through
                                                   ? _ ("Asked %s, %s; its sale of %s fell through")
                                                   : _ ("Asked %s, %s, ended %s"),
                                               asked, unsold->outlet_name, day);
  g_autofree char *second
      = unsold->times == 0
            ? g_strdup (_ ("Sold by hand, never offered through an outlet"))
            : sw_text_counted (unsold->times, "Offered %d time without a buyer; %s",
                               "Offered %d times without a buyer; %s", unsold->times,
                               *interest != '\0' ? interest : _ ("no interest noted"));
  g_autofree char *van = sw_words_van (unsold->van);
  g_autofree char *third = g_strdup_printf (
      "%s, %s%s, %s", unsold->item->place_path != NULL ? unsold->item->place_path : "",
      mass != NULL ? mass : _ ("mass not known"),
      unsold->item->size == SW_SIZE_MACHINE ? _ (", needs a machine to lift") : "", van);

  sw_container_empty (self->facts);
  sw_container_add_line (self->facts, first, NULL);
  sw_container_add_line (self->facts, second, NULL);
  sw_container_add_line (self->facts, third, "dim-label");
}

static void
fill_floor (SwUnsoldView *self, const SwUnsold *unsold)
{
  g_autofree char *money
      = unsold->floor.known ? sw_store_money_with_code (self->store, unsold->floor.floor) : NULL;
  g_autofree char *text
      = money != NULL ? g_strdup_printf (_ ("Floor %s: %s"), money,
                                         unsold->floor.words != NULL ? unsold->floor.words : "")
                      : g_strdup (unsold->floor.words != NULL ? unsold->floor.words : "");

  gtk_widget_set_visible (self->floor_word, unsold->against_floor == SW_FLOOR_BELOW);
  gtk_label_set_text (GTK_LABEL (self->floor_words), text);
}

static void
attach (GtkWidget *grid, const char *text, int column, int row, const char *class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), column == 2 ? 1 : 0);
  gtk_label_set_line_wrap (GTK_LABEL (label), TRUE); /* with large letters beside a browser */
  gtk_widget_set_hexpand (label, column == 0);
  if (class != NULL)
    gtk_style_context_add_class (gtk_widget_get_style_context (label), class);
  gtk_grid_attach (GTK_GRID (grid), label, column, row, 1, 1);
  gtk_widget_show (label);
}

static void
fill_outlook_row (SwUnsoldView *self, const SwOutlook *outlook, int row)
{
  g_autofree char *chance = g_strdup_printf (_ ("%.0f %% (%.0f to %.0f)"), outlook->chance * 100,
                                             outlook->low * 100, outlook->high * 100);
  g_autofree char *money = outlook->has_money ? sw_store_money (self->store, outlook->expected)
                                              : g_strdup (_ ("no price"));
  g_autofree char *cases = outlook->few
                               ? g_strdup_printf (_ ("%d, too few to tell"), outlook->cases)
                               : g_strdup_printf (_ ("%d, %d sold"), outlook->cases, outlook->sold);

  attach (self->outlook, outlook->name, 0, row, NULL);
  attach (self->outlook, chance, 1, row, NULL);
  attach (self->outlook, money, 2, row, NULL);
  attach (self->outlook, cases, 3, row, outlook->few ? "dim-label" : NULL);
}

static void
fill_outlook (SwUnsoldView *self, const SwUnsold *unsold)
{
  static const char *const heads[]
      = { N_ ("Outlet"), N_ ("Chance"), N_ ("Likely, after fees"), N_ ("Cases") };

  sw_container_empty (self->outlook);
  for (int i = 0; unsold->outlooks->len > 0 && i < (int)G_N_ELEMENTS (heads); i++)
    attach (self->outlook, _ (heads[i]), i, 0, "dim-label");
  for (guint i = 0; i < unsold->outlooks->len; i++)
    fill_outlook_row (self, g_ptr_array_index (unsold->outlooks, i), (int)i + 1);
}

static void
show_current (SwUnsoldView *self)
{
  const SwUnsold *unsold = current (self);
  g_autofree char *where = NULL;

  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), unsold != NULL ? "item" : "none");
  self->shown = unsold != NULL ? unsold->item->id : 0;
  if (unsold == NULL)
    return;
  where = g_strdup_printf (_ ("%u of %u"), self->at + 1, self->items->len);
  gtk_label_set_text (GTK_LABEL (self->where), where);
  gtk_label_set_text (GTK_LABEL (self->name), unsold->item->name);
  fill_facts (self, unsold);
  fill_floor (self, unsold);
  fill_outlook (self, unsold);
  gtk_widget_set_sensitive (self->before, self->at > 0);
  gtk_widget_set_sensitive (self->verdicts, !sw_store_overview (self->store)->read_only);
  gtk_widget_queue_draw (self->photo);
}

static gboolean
on_draw (GtkWidget *widget, cairo_t *cr, SwUnsoldView *self)
{
  const SwUnsold *unsold = current (self);
  GdkRectangle area
      = { 0, 0, gtk_widget_get_allocated_width (widget), gtk_widget_get_allocated_height (widget) };

  if (unsold != NULL)
    sw_pictures_draw (self->pictures, cr, gtk_widget_get_style_context (widget),
                      unsold->item->first_photo, SW_PICTURE_LARGE, &area, TRUE);
  return FALSE;
}

/* ---- reading ---- */

static gpointer
read_unsold (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  return sw_unsold_list (catalogue, error);
}

/* Stays at the item, or where it was in the list once it is decided. */
static void
on_unsold (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwUnsoldView) self = data;
  GPtrArray *items;

  if (self->store == NULL)
    return;
  items = sw_store_finish (self->store, result, NULL);
  if (items == NULL)
    return;
  g_clear_pointer (&self->items, g_ptr_array_unref);
  self->items = items;
  for (guint i = 0; i < items->len; i++)
    if (((const SwUnsold *)g_ptr_array_index (items, i))->item->id == self->shown)
      self->at = i;
  if (self->at >= items->len)
    self->at = 0;
  show_current (self);
}

/* ---- keys ---- */

static void
go (SwUnsoldView *self, int by)
{
  int to = (int)self->at + by, n = self->items != NULL ? (int)self->items->len : 0;

  if (n == 0)
    return;
  self->at = (guint)((to % n + n) % n);
  show_current (self);
}

static void
on_next (SwUnsoldView *self)
{
  go (self, 1);
}

static void
on_before (SwUnsoldView *self)
{
  go (self, -1);
}

static void
decide (SwUnsoldView *self, SwVerdict verdict)
{
  const SwUnsold *unsold = current (self);

  if (unsold == NULL || !gtk_widget_get_sensitive (self->verdicts))
    return;
  if (verdict == SW_VERDICT_LATER)
    go (self, 1);
  else
    sw_act_decide (self->store, unsold->item->id, verdict);
}

static void
on_chosen (GtkWidget *bar, int verdict, SwUnsoldView *self)
{
  decide (self, (SwVerdict)verdict);
}

static gboolean
on_key (GtkWidget *widget, GdkEventKey *event, SwUnsoldView *self)
{
  SwVerdict verdict;

  if ((event->state & gtk_accelerator_get_default_mod_mask ()) != 0)
    return FALSE;
  if (event->keyval == GDK_KEY_Page_Down || event->keyval == GDK_KEY_Down)
    go (self, 1);
  else if (event->keyval == GDK_KEY_Page_Up || event->keyval == GDK_KEY_Up)
    go (self, -1);
  else if (sw_night_verdict_of_key (gdk_keyval_to_lower (event->keyval), &verdict))
    decide (self, verdict);
  else
    return FALSE;
  return TRUE;
}

/* ---- object ---- */

static void
sw_unsold_view_dispose (GObject *object)
{
  SwUnsoldView *self = SW_UNSOLD_VIEW (object);

  g_clear_object (&self->store);
  g_clear_object (&self->pictures);
  g_clear_pointer (&self->items, g_ptr_array_unref);
  G_OBJECT_CLASS (sw_unsold_view_parent_class)->dispose (object);
}

#define BIND(name) gtk_widget_class_bind_template_child (widget, SwUnsoldView, name)

static void
sw_unsold_view_class_init (SwUnsoldViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_unsold_view_dispose;
  g_type_ensure (SW_TYPE_SIDE_BOX);
  g_type_ensure (SW_TYPE_VERDICT_BAR);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/unsold-view.ui");
  BIND (stack);
  BIND (where);
  BIND (name);
  BIND (photo);
  BIND (facts);
  BIND (floor_word);
  BIND (floor_words);
  BIND (outlook);
  BIND (verdicts);
  BIND (before);
  BIND (next);
  gtk_widget_class_bind_template_callback (widget, on_draw);
  gtk_widget_class_bind_template_callback (widget, on_next);
  gtk_widget_class_bind_template_callback (widget, on_before);
  gtk_widget_class_bind_template_callback (widget, on_chosen);
  gtk_widget_class_bind_template_callback (widget, on_key);
}

static void
sw_unsold_view_init (SwUnsoldView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
sw_unsold_view_new (SwStore *store, SwPictures *pictures)
{
  SwUnsoldView *self = g_object_new (SW_TYPE_UNSOLD_VIEW, NULL);

  self->store = g_object_ref (store);
  self->pictures = g_object_ref (pictures);
  g_signal_connect_object (pictures, "loaded", G_CALLBACK (gtk_widget_queue_draw), self->photo,
                           G_CONNECT_SWAPPED);
  return GTK_WIDGET (self);
}

void
sw_unsold_view_load (GtkWidget *view)
{
  SwUnsoldView *self = SW_UNSOLD_VIEW (view);

  sw_store_read (self->store, SW_RANK_VISIBLE, read_unsold, NULL, NULL,
                 (GDestroyNotify)g_ptr_array_unref, NULL, on_unsold, g_object_ref (self));
}

void
sw_unsold_view_focus (GtkWidget *view)
{
  gtk_widget_grab_focus (SW_UNSOLD_VIEW (view)->next);
}
