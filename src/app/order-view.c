/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two rows of photos, "Now" and "Then", the photo in question in the middle of each. Time runs as
 * the person reads. */
#include "app/order-view.h"

#include "app/cell-draw.h"
#include "app/stop-words.h"
#include "app/text.h"
#include "app/widgets.h"

#define GAP 6
#define PAD 4
#define ROWS 2

struct _SwOrderView
{
  GtkDrawingArea parent;
  SwPictures *pictures;
  const SwClockOrder *order; /* borrowed; NULL: nothing to show */
  guint photo;
  gboolean has_change;
  SwOrderPlace places[ROWS];
};

enum
{
  GO,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

G_DEFINE_TYPE (SwOrderView, sw_order_view, GTK_TYPE_DRAWING_AREA)

static const SwOrderPhoto *
photo_at (SwOrderView *self, int index)
{
  return g_ptr_array_index (self->order->photos, (guint)index);
}

static const char *
camera_of (SwOrderView *self, const SwOrderPhoto *photo)
{
  return ((const SwOrderCamera *)g_ptr_array_index (self->order->cameras, (guint)photo->camera))
      ->clock.label;
}

/* ---- in words ---- */

/* "10:12:40", with its day where that is another than the middle photo's. */
static char *
time_text (SwOrderView *self, gint64 t_us, gint64 middle_us)
{
  gint64 day = 86400 * SW_US_PER_SECOND;
  SwCivil civil = sw_civil_from_us (t_us);

  if (t_us / day == middle_us / day)
    return g_strdup_printf ("%02d:%02d:%02d", civil.hour, civil.minute, civil.second);
  return sw_strip_time (TRUE, t_us, TRUE);
}

static void
add_neighbour (SwOrderView *self, GString *text, const char *head, int index)
{
  g_autofree char *name = index >= 0 ? g_path_get_basename (photo_at (self, index)->file) : NULL;

  if (name != NULL)
    g_string_append_printf (text, _ (", %s %s of %s"), head, name,
                            camera_of (self, photo_at (self, index)));
}

static char *
place_text (SwOrderView *self, const char *head, const SwOrderPlace *place)
{
  GString *text = g_string_new (head);
  g_autofree char *day = sw_strip_time (TRUE, place->t_us, TRUE);

  g_string_append_printf (text, " %s", day);
  add_neighbour (self, text, _ ("after"), place->before[0]);
  add_neighbour (self, text, _ ("before"), place->after[0]);
  return g_string_free (text, FALSE);
}

static void
tell (SwOrderView *self)
{
  g_autofree char *now = NULL, *then = NULL, *name = NULL;

  if (self->order != NULL)
    {
      now = place_text (self, _ ("Now"), &self->places[0]);
      then = self->has_change ? place_text (self, _ (". Then"), &self->places[1]) : g_strdup ("");
      name = g_strconcat (now, then, NULL);
    }
  atk_object_set_name (gtk_widget_get_accessible (GTK_WIDGET (self)), name != NULL ? name : "");
}

/* ---- drawing ---- */

typedef struct
{
  int line, cell_w, photo_h, cell_h, row_h;
} Sizes;

static Sizes
sizes_of (SwOrderView *self)
{
  g_autoptr (PangoLayout) layout = sw_cell_text_layout (GTK_WIDGET (self), "00:00:00", -1, TRUE);
  Sizes sizes = { .line = 16 };
  int time_w = 60;

  pango_layout_get_pixel_size (layout, &time_w, &sizes.line);
  sizes.photo_h = CLAMP (sizes.line * 4, 64, 96);
  sizes.cell_w = MAX (sizes.photo_h * 4 / 3, time_w);
  sizes.cell_h = sizes.photo_h + 2 * sizes.line + PAD;
  sizes.row_h = sizes.line + PAD + sizes.cell_h + 2 * GAP;
  return sizes;
}

static void
draw_frame (SwOrderView *self, cairo_t *cr, const GdkRectangle *area)
{
  GtkStyleContext *style = gtk_widget_get_style_context (GTK_WIDGET (self));

  gtk_style_context_save (style);
  gtk_style_context_add_class (style, "sw-chosen");
  gtk_render_frame (style, cr, area->x - 1, area->y - 1, area->width + 2, area->height + 2);
  gtk_style_context_restore (style);
}

typedef struct
{
  const SwOrderPlace *place;
  Sizes sizes;
  int y, width;
  gboolean mirrored;
} Row;

/* Slot 0 is the middle, negative ones before it. */
static void
draw_cell (SwOrderView *self, cairo_t *cr, const Row *row, int slot, int index, gint64 t_us)
{
  GtkWidget *widget = GTK_WIDGET (self);
  GtkStyleContext *style = gtk_widget_get_style_context (widget);
  const Sizes *sizes = &row->sizes;
  int step = (row->mirrored ? -slot : slot) * (sizes->cell_w + GAP);
  GdkRectangle area
      = { row->width / 2 - sizes->cell_w / 2 + step, row->y, sizes->cell_w, sizes->photo_h };
  g_autofree char *time = time_text (self, t_us, row->place->t_us);
  int y = area.y + area.height + PAD;
  g_autoptr (PangoLayout) when = sw_cell_text_layout (widget, time, sizes->cell_w, slot == 0);
  g_autoptr (PangoLayout) whose = sw_cell_text_layout (
      widget, camera_of (self, photo_at (self, index)), sizes->cell_w, FALSE);

  sw_pictures_draw (self->pictures, cr, style, photo_at (self, index)->photo, SW_PICTURE_SMALL,
                    &area, FALSE);
  if (slot == 0)
    draw_frame (self, cr, &area);
  sw_cell_align (when);
  sw_cell_align (whose);
  sw_cell_draw_layout (widget, cr, when, NULL, area.x, y);
  if (self->order->cameras->len > 1)
    sw_cell_draw_layout (widget, cr, whose, "dim-label", area.x, y + sizes->line);
}

static void
draw_row (SwOrderView *self, cairo_t *cr, int which, const Sizes *sizes)
{
  GtkWidget *widget = GTK_WIDGET (self);
  int width = gtk_widget_get_allocated_width (widget);
  Row row = { .place = &self->places[which],
              .sizes = *sizes,
              .y = which * sizes->row_h + sizes->line + PAD + GAP,
              .width = width,
              .mirrored = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL };
  int sides = CLAMP ((width / (sizes->cell_w + GAP) - 1) / 2, 0, SW_ORDER_NEAR);
  const char *head = which == 0 ? _ ("Now") : _ ("Then");

  sw_cell_draw_text (widget, cr, head, "sw-state",
                     row.mirrored ? width - PAD - sw_cell_text_width (widget, head) : PAD,
                     which * sizes->row_h + GAP, -1, TRUE);
  draw_cell (self, cr, &row, 0, (int)self->photo, row.place->t_us);
  for (int k = 0; k < sides; k++)
    {
      if (row.place->before[k] >= 0)
        draw_cell (self, cr, &row, -k - 1, row.place->before[k], row.place->before_us[k]);
      if (row.place->after[k] >= 0)
        draw_cell (self, cr, &row, k + 1, row.place->after[k], row.place->after_us[k]);
    }
}

static gboolean
sw_order_view_draw (GtkWidget *widget, cairo_t *cr)
{
  SwOrderView *self = SW_ORDER_VIEW (widget);
  GtkStyleContext *style = gtk_widget_get_style_context (widget);
  int width = gtk_widget_get_allocated_width (widget);
  int height = gtk_widget_get_allocated_height (widget);
  Sizes sizes = sizes_of (self);

  gtk_render_background (style, cr, 0, 0, width, height);
  if (self->order == NULL)
    return FALSE;
  draw_row (self, cr, 0, &sizes);
  if (self->has_change)
    draw_row (self, cr, 1, &sizes);
  else
    sw_cell_draw_text (widget, cr, _ ("A change typed below shows here first."), "dim-label", PAD,
                       sizes.row_h + sizes.row_h / 2 - sizes.line / 2, width - 2 * PAD, FALSE);
  if (gtk_widget_has_visible_focus (widget))
    gtk_render_focus (style, cr, 0, 0, width, height);
  return FALSE;
}

static void
sw_order_view_get_preferred_height (GtkWidget *widget, int *out_least, int *out_natural)
{
  *out_least = *out_natural = ROWS * sizes_of (SW_ORDER_VIEW (widget)).row_h;
}

/* Room for one on each side. */
static void
sw_order_view_get_preferred_width (GtkWidget *widget, int *out_least, int *out_natural)
{
  Sizes sizes = sizes_of (SW_ORDER_VIEW (widget));

  *out_least = 3 * (sizes.cell_w + GAP);
  *out_natural = (2 * SW_ORDER_NEAR + 1) * (sizes.cell_w + GAP);
}

/* ---- keys ---- */

static const struct
{
  guint key;
  int step;        /* along the time */
  gboolean visual; /* mirrored with the text */
} steps[] = {
  { GDK_KEY_Left, -1, TRUE },        { GDK_KEY_Right, 1, TRUE },
  { GDK_KEY_KP_Left, -1, TRUE },     { GDK_KEY_KP_Right, 1, TRUE },
  { GDK_KEY_Page_Up, -10, FALSE },   { GDK_KEY_Page_Down, 10, FALSE },
  { GDK_KEY_Home, G_MININT, FALSE }, { GDK_KEY_End, G_MAXINT, FALSE },
};

static gboolean
sw_order_view_key_press_event (GtkWidget *widget, GdkEventKey *event)
{
  gboolean mirrored = gtk_widget_get_direction (widget) == GTK_TEXT_DIR_RTL;

  if ((event->state & gtk_accelerator_get_default_mod_mask ()) == 0)
    for (guint k = 0; k < G_N_ELEMENTS (steps); k++)
      if (event->keyval == steps[k].key)
        {
          g_signal_emit (widget, signals[GO], 0,
                         steps[k].visual && mirrored ? -steps[k].step : steps[k].step);
          return TRUE;
        }
  return GTK_WIDGET_CLASS (sw_order_view_parent_class)->key_press_event (widget, event);
}

/* ---- object ---- */

static void
sw_order_view_dispose (GObject *object)
{
  SwOrderView *self = SW_ORDER_VIEW (object);

  self->order = NULL;
  g_clear_object (&self->pictures);
  G_OBJECT_CLASS (sw_order_view_parent_class)->dispose (object);
}

static void
sw_order_view_class_init (SwOrderViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_order_view_dispose;
  widget->draw = sw_order_view_draw;
  widget->get_preferred_width = sw_order_view_get_preferred_width;
  widget->get_preferred_height = sw_order_view_get_preferred_height;
  widget->key_press_event = sw_order_view_key_press_event;
  signals[GO] = g_signal_new ("go", SW_TYPE_ORDER_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                              G_TYPE_NONE, 1, G_TYPE_INT);
  gtk_widget_class_set_css_name (widget, "orderview");
  gtk_widget_class_set_accessible_role (widget, ATK_ROLE_IMAGE);
}

static void
sw_order_view_init (SwOrderView *self)
{
  gtk_widget_set_can_focus (GTK_WIDGET (self), TRUE);
}

static void
on_loaded (SwOrderView *self)
{
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
sw_order_view_set_pictures (SwOrderView *self, SwPictures *pictures)
{
  self->pictures = g_object_ref (pictures);
  g_signal_connect_object (pictures, "loaded", G_CALLBACK (on_loaded), self, G_CONNECT_SWAPPED);
}

void
sw_order_view_set (SwOrderView *self, const SwClockOrder *order, guint photo,
                   const SwClockChange *change)
{
  self->order = order;
  self->photo = photo;
  self->has_change = change != NULL;
  if (order != NULL)
    {
      self->places[0] = sw_clock_order_place (order, photo, NULL);
      if (change != NULL)
        self->places[1] = sw_clock_order_place (order, photo, change);
    }
  tell (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}
