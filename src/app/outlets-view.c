/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The outlet chosen, its terms and what they come to. Sums and days are core's. */
#include "app/outlets-view.h"

#include <string.h>

#include "app/clock.h"
#include "app/slip-form.h"
#include "app/text-limits-form.h"
#include "app/text.h"
#include "app/widgets.h"
#include "core/trade/offering.h"
#include "core/trade/outlet-sheet.h"

struct _SwOutletsView
{
  GtkBox parent;
  SwStore *store;
  GPtrArray *sheets;  /* SwOutletSheet */
  GPtrArray *unready; /* char: a sentence that names it */
  SwDay today;
  gboolean following; /* the chooser is being filled */
  GtkWidget *stack, *chooser, *about, *quotes, *charges, *last_day, *unready_box, *unready_head;
};

G_DEFINE_TYPE (SwOutletsView, sw_outlets_view, GTK_TYPE_BOX)

static const SwOutletSheet *
current (SwOutletsView *self)
{
  int at = gtk_combo_box_get_active (GTK_COMBO_BOX (self->chooser));

  return self->sheets != NULL && at >= 0 && at < (int)self->sheets->len
             ? g_ptr_array_index (self->sheets, at)
             : NULL;
}

static GtkWindow *
window_of (SwOutletsView *self)
{
  return GTK_WINDOW (gtk_widget_get_toplevel (GTK_WIDGET (self)));
}

static GtkWidget *
attach (GtkWidget *grid, const char *text, int column, int row, double align, const char *class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), (float)align);
  gtk_label_set_line_wrap (GTK_LABEL (label), TRUE);
  if (class != NULL)
    gtk_style_context_add_class (gtk_widget_get_style_context (label), class);
  gtk_grid_attach (GTK_GRID (grid), label, column, row, 1, 1);
  gtk_widget_show (label);
  return label;
}

/* ---- the outlet ---- */

/* Takes the words over. */
static void
add_part (GString *text, gboolean known, char *words)
{
  if (known)
    g_string_append_printf (text, ", %s", words);
  g_free (words);
}

static void
fill_about (SwOutletsView *self, const SwOutletSheet *sheet)
{
  const SwOutlet *outlet = sheet->outlet;
  g_autoptr (GString) text = g_string_new (outlet->has_kind ? _ (sw_outlet_kind_word (outlet->kind))
                                                            : _ ("kind not said"));

  add_part (text, outlet->running_days >= 0,
            sw_text_count (outlet->running_days, "%d day running", "%d days running"));
  add_part (text, outlet->pay_days >= 0,
            sw_text_count (outlet->pay_days, "%d day to pay", "%d days to pay"));
  add_part (text, outlet->collect_days >= 0,
            sw_text_count (outlet->collect_days, "%d day to collect", "%d days to collect"));
  add_part (text, sheet->limits.title > 0,
            sw_text_count (sheet->limits.title, "titles of at most %d character",
                           "titles of at most %d characters"));
  add_part (text, sheet->limits.text > 0,
            sw_text_count (sheet->limits.text, "texts of at most %d character",
                           "texts of at most %d characters"));
  gtk_label_set_text (GTK_LABEL (self->about), text->str);
}

static void
add_quote (SwOutletsView *self, const char *price, const SwQuote *quote, int row)
{
  g_autofree char *fees = sw_store_money (self->store, quote->fees);
  g_autofree char *leaves = sw_store_money (self->store, quote->leaves);

  attach (self->quotes, price, 0, row, 0, NULL);
  attach (self->quotes, fees, 1, row, 1, NULL);
  attach (self->quotes, leaves, 2, row, 1, NULL);
}

static void
fill_quotes (SwOutletsView *self, const SwOutletSheet *sheet)
{
  sw_container_empty (self->quotes);
  if (!sheet->has_quotes)
    {
      attach (self->quotes, _ ("These terms come to more than can be added up."), 0, 0, 0,
              "sw-problem");
      return;
    }
  attach (self->quotes, _ ("A sale for"), 0, 0, 0, "dim-label");
  attach (self->quotes, _ ("costs"), 1, 0, 1, "dim-label");
  attach (self->quotes, _ ("leaves"), 2, 0, 1, "dim-label");
  for (int i = 0; i < SW_QUOTED_PRICES; i++)
    {
      g_autofree char *price = sw_store_money (self->store, sheet->prices[i]);
      add_quote (self, price, &sheet->quotes[i], i + 1);
    }
  add_quote (self, _ ("no sale"), &sheet->no_sale, SW_QUOTED_PRICES + 1);
}

/* ---- charges ---- */

/* "10% to 500.00, then 4%" of "500.00:10%;:4%". Transfer full. */
static char *
tiers_text (const char *tiers)
{
  g_auto (GStrv) parts = g_strsplit (tiers, ";", -1);
  GString *text = g_string_new (NULL);

  for (char **part = parts; *part != NULL; part++)
    {
      const char *colon = strchr (*part, ':');
      const char *rate = colon != NULL ? colon + 1 : *part;
      g_string_append_printf (text, "%s%s", text->len > 0 ? _ (", then ") : "", rate);
      if (colon != NULL && colon > *part)
        g_string_append_printf (text, _ (" to %.*s"), (int)(colon - *part), *part);
    }
  return g_string_free (text, FALSE);
}

/* "10% of the price to 500, at least 2.00, tax 15%" in the words of the table. */
static char *
charge_text (SwOutletsView *self, const SwCharge *charge)
{
  GString *text = g_string_new (NULL);
  g_autofree char *tiers = charge->tiers != NULL ? tiers_text (charge->tiers) : NULL;
  g_autofree char *flat = sw_store_money (self->store, charge->flat);
  g_autofree char *least = sw_store_money (self->store, charge->least);
  g_autofree char *most = sw_store_money (self->store, charge->most);

  if (charge->ends)
    return g_string_free (g_string_append (text, _ ("ends")), FALSE);
  g_string_append_printf (text, _ ("%s on %s"), tiers != NULL ? tiers : flat,
                          _ (sw_charge_basis_word (charge->basis)));
  if (charge->has_least)
    g_string_append_printf (text, _ (", at least %s"), least);
  if (charge->has_most)
    g_string_append_printf (text, _ (", at most %s"), most);
  if (charge->tax != NULL)
    g_string_append_printf (text, _ (", tax %s%%"), charge->tax);
  if (charge->free_offers > 0)
    g_string_append_printf (text, _ (", %d free a month"), (int)charge->free_offers);
  return g_string_free (text, FALSE);
}

#define CHARGE "sw-charge"

/* A new version from today on, begun as this one is: the old one stays for the old offers. */
static void
on_change_charge (GtkWidget *button, SwOutletsView *self)
{
  const SwOutletSheet *sheet = current (self);
  const SwCharge *charge = g_object_get_data (G_OBJECT (button), CHARGE);
  gboolean by_price = charge->tiers != NULL;
  g_autofree char *flat = sw_store_money (self->store, charge->flat);
  g_autofree char *least = sw_store_money (self->store, charge->least);
  g_autofree char *most = sw_store_money (self->store, charge->most);
  g_autofree char *tax = charge->tax != NULL ? g_strconcat (charge->tax, "%", NULL) : NULL;
  g_autofree char *free_offers
      = charge->free_offers > 0 ? g_strdup_printf ("%d", (int)charge->free_offers) : NULL;
  const char *begun[] = { charge->name,
                          sw_charge_basis_word (charge->basis),
                          by_price || charge->ends ? NULL : flat,
                          charge->tiers,
                          charge->has_least ? least : NULL,
                          charge->has_most ? most : NULL,
                          tax,
                          free_offers,
                          NULL };

  if (sheet != NULL)
    sw_slip_form_show (window_of (self), self->store, SW_SLIP_CHARGE, sheet->outlet->name,
                       _ ("From that day on; offers that were up before keep the earlier terms. "
                          "Without an amount and a percent it ends."),
                       begun);
}

static void
add_charge (SwOutletsView *self, const SwOutletSheet *sheet, const SwCharge *charge, int row)
{
  static const char *const times[] = { [SW_CHARGE_IN_FORCE] = N_ ("in force"),
                                       [SW_CHARGE_EARLIER] = N_ ("earlier"),
                                       [SW_CHARGE_LATER] = N_ ("to come") };
  SwChargeTime time = sw_charge_time (sheet->charges, charge, self->today);
  const char *class = time == SW_CHARGE_IN_FORCE ? NULL : "dim-label";
  g_autofree char *from = sw_day_written (charge->from);
  g_autofree char *when = g_strdup_printf (_ ("from %s, %s"), from, _ (times[time]));
  g_autofree char *what = charge_text (self, charge);
  g_autofree char *name = g_strdup_printf (_ ("Change %s"), charge->name);
  GtkWidget *button = gtk_button_new_with_label (_ ("Change…"));

  attach (self->charges, charge->name, 0, row, 0, class);
  gtk_widget_set_hexpand (attach (self->charges, what, 1, row, 0, class), TRUE);
  attach (self->charges, when, 2, row, 0, class);
  atk_object_set_name (gtk_widget_get_accessible (button), name);
  g_object_set_data (G_OBJECT (button), CHARGE, (gpointer)charge);
  g_signal_connect (button, "clicked", G_CALLBACK (on_change_charge), self);
  gtk_widget_set_sensitive (button, !sw_store_overview (self->store)->read_only);
  gtk_grid_attach (GTK_GRID (self->charges), button, 3, row, 1, 1);
  gtk_widget_show (button);
}

static void
fill_charges (SwOutletsView *self, const SwOutletSheet *sheet)
{
  sw_container_empty (self->charges);
  for (guint i = 0; i < sheet->charges->len; i++)
    add_charge (self, sheet, g_ptr_array_index (sheet->charges, i), (int)i);
  if (sheet->charges->len == 0)
    attach (self->charges, _ ("It takes no fee."), 0, 0, 0, "dim-label");
}

/* ---- counted back from the next trip ---- */

static void
fill_last_day (SwOutletsView *self, const SwOutletSheet *sheet)
{
  g_autofree char *first = sw_day_written (sheet->trip_first);
  g_autofree char *last = sw_day_written (sheet->last_day);
  int left = sheet->last_day.n - self->today.n;
  g_autofree char *text = NULL;

  if (!sheet->has_trip)
    text = g_strdup (_ ("No trip lies ahead; add one to see until when things must be up."));
  else if (!sheet->has_last_day)
    text = g_strdup_printf (
        _ ("Say how many days an offer runs here, and the last day to put up for "
           "the trip of %s is counted back."),
        first);
  else if (left < 0)
    text = g_strdup_printf (_ ("Too late for the trip of %s: the last day was %s."), first, last);
  else
    text = sw_text_counted (
        left, "To be paid and collected on the trip of %s: up by %s, in %d day.",
        "To be paid and collected on the trip of %s: up by %s, in %d days.", first, last, left);
  gtk_label_set_text (GTK_LABEL (self->last_day), text);
}

#define MOST_UNREADY 12

/* One line each, cut where there is no room: a dozen that wrap are laid out for longer than a frame
 * lasts. */
static void
add_unready_line (SwOutletsView *self, const char *text)
{
  GtkWidget *label = sw_container_add_line (self->unready_box, text, NULL);

  gtk_label_set_line_wrap (GTK_LABEL (label), FALSE);
  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_widget_set_tooltip_text (label, text);
}

static void
fill_unready (SwOutletsView *self)
{
  g_autofree char *head = g_strdup_printf (_ ("Not ready for it: %u"), self->unready->len);

  sw_container_empty (self->unready_box);
  gtk_label_set_text (GTK_LABEL (self->unready_head), head);
  gtk_widget_set_visible (self->unready_head, self->unready->len > 0);
  for (guint i = 0; i < MIN (self->unready->len, MOST_UNREADY); i++)
    add_unready_line (self, g_ptr_array_index (self->unready, i));
  if (self->unready->len > MOST_UNREADY)
    {
      g_autofree char *more
          = g_strdup_printf (_ ("and %u more"), self->unready->len - MOST_UNREADY);
      sw_container_add_line (self->unready_box, more, "dim-label");
    }
}

static void
show_current (SwOutletsView *self)
{
  const SwOutletSheet *sheet = current (self);

  if (sheet == NULL || self->following)
    return;
  fill_about (self, sheet);
  fill_quotes (self, sheet);
  fill_charges (self, sheet);
  fill_last_day (self, sheet);
  fill_unready (self);
}

/* ---- reading ---- */

typedef struct
{
  GPtrArray *sheets, *unready;
  SwDay today;
} OutletsRead;

static void
outlets_read_free (gpointer data)
{
  OutletsRead *read = data;

  g_clear_pointer (&read->sheets, g_ptr_array_unref);
  g_clear_pointer (&read->unready, g_ptr_array_unref);
  g_free (read);
}

static gboolean
add_unready (SwCatalogue *catalogue, SwState state, GPtrArray *unready, GError **error)
{
  const SwItemFilter filter = { .state = &state, .order = SW_ITEMS_BY_NAME };
  g_autoptr (GPtrArray) items = sw_item_list (catalogue, &filter, error);

  for (guint i = 0; items != NULL && i < items->len; i++)
    {
      const SwItem *item = g_ptr_array_index (items, i);
      g_autofree char *why = sw_offering_why_not (catalogue, item);
      if (why != NULL)
        g_ptr_array_add (unready, g_steal_pointer (&why));
    }
  return items != NULL;
}

static gpointer
read_outlets (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  OutletsRead *read = g_new0 (OutletsRead, 1);

  read->today = sw_day_of_instant (*(const SwInstant *)data, sw_catalogue_zone (catalogue));
  read->unready = g_ptr_array_new_with_free_func (g_free);
  read->sheets = sw_outlet_sheets (catalogue, read->today, error);
  if (read->sheets != NULL && add_unready (catalogue, SW_STATE_FOUND, read->unready, error)
      && add_unready (catalogue, SW_STATE_READY, read->unready, error))
    return read;
  outlets_read_free (read);
  return NULL;
}

/* Stays at the outlet by its name. */
static void
fill_chooser (SwOutletsView *self)
{
  g_autofree char *chosen = gtk_combo_box_text_get_active_text (GTK_COMBO_BOX_TEXT (self->chooser));
  int at = 0;

  self->following = TRUE;
  gtk_combo_box_text_remove_all (GTK_COMBO_BOX_TEXT (self->chooser));
  for (guint i = 0; i < self->sheets->len; i++)
    {
      const SwOutletSheet *sheet = g_ptr_array_index (self->sheets, i);
      gtk_combo_box_text_append_text (GTK_COMBO_BOX_TEXT (self->chooser), sheet->outlet->name);
      if (g_strcmp0 (sheet->outlet->name, chosen) == 0)
        at = (int)i;
    }
  gtk_combo_box_set_active (GTK_COMBO_BOX (self->chooser), at);
  self->following = FALSE;
}

static void
on_outlets (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwOutletsView) self = data;
  OutletsRead *read;

  if (self->store == NULL)
    return;
  read = sw_store_finish (self->store, result, NULL);
  if (read == NULL)
    return;
  sw_container_empty (self->charges); /* its buttons lead to the charges read before */
  g_clear_pointer (&self->sheets, g_ptr_array_unref);
  g_clear_pointer (&self->unready, g_ptr_array_unref);
  self->sheets = g_steal_pointer (&read->sheets);
  self->unready = g_steal_pointer (&read->unready);
  self->today = read->today;
  outlets_read_free (read);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack),
                                    self->sheets->len > 0 ? "outlets" : "none");
  fill_chooser (self);
  show_current (self);
}

/* ---- buttons ---- */

static void
on_new (SwOutletsView *self)
{
  sw_slip_form_show (window_of (self), self->store, SW_SLIP_OUTLET, NULL, NULL, NULL);
}

static char *
days_text (gint64 days)
{
  return days >= 0 ? g_strdup_printf ("%" G_GINT64_FORMAT, days) : NULL;
}

static void
on_edit (SwOutletsView *self)
{
  const SwOutletSheet *sheet = current (self);
  g_autofree char *running = NULL, *pay = NULL, *collect = NULL;

  if (sheet == NULL)
    return;
  running = days_text (sheet->outlet->running_days);
  pay = days_text (sheet->outlet->pay_days);
  collect = days_text (sheet->outlet->collect_days);
  const char *begun[]
      = { sheet->outlet->name,
          sheet->outlet->has_kind ? sw_outlet_kind_word (sheet->outlet->kind) : NULL,
          running,
          pay,
          collect,
          sheet->outlet->rounding == SW_ROUND_HALF_EVEN ? "half-even" : "half-up" };
  sw_slip_form_show (window_of (self), self->store, SW_SLIP_OUTLET, NULL,
                     _ ("Under another name it is another outlet."), begun);
}

static void
on_limits (SwOutletsView *self)
{
  const SwOutletSheet *sheet = current (self);

  if (sheet != NULL)
    sw_text_limits_form_show (window_of (self), self->store, sheet->outlet->id, &sheet->limits);
}

static void
on_add_charge (SwOutletsView *self)
{
  const SwOutletSheet *sheet = current (self);

  if (sheet != NULL)
    sw_slip_form_show (window_of (self), self->store, SW_SLIP_CHARGE, sheet->outlet->name, NULL,
                       NULL);
}

/* ---- object ---- */

static void
sw_outlets_view_dispose (GObject *object)
{
  SwOutletsView *self = SW_OUTLETS_VIEW (object);

  g_clear_object (&self->store);
  g_clear_pointer (&self->sheets, g_ptr_array_unref);
  g_clear_pointer (&self->unready, g_ptr_array_unref);
  G_OBJECT_CLASS (sw_outlets_view_parent_class)->dispose (object);
}

#define BIND(name) gtk_widget_class_bind_template_child (widget, SwOutletsView, name)

static void
sw_outlets_view_class_init (SwOutletsViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_outlets_view_dispose;
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/outlets-view.ui");
  BIND (stack);
  BIND (chooser);
  BIND (about);
  BIND (quotes);
  BIND (charges);
  BIND (last_day);
  BIND (unready_box);
  BIND (unready_head);
  gtk_widget_class_bind_template_callback (widget, show_current);
  gtk_widget_class_bind_template_callback (widget, on_new);
  gtk_widget_class_bind_template_callback (widget, on_edit);
  gtk_widget_class_bind_template_callback (widget, on_limits);
  gtk_widget_class_bind_template_callback (widget, on_add_charge);
}

static void
sw_outlets_view_init (SwOutletsView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  sw_combo_ellipsize (self->chooser);
}

GtkWidget *
sw_outlets_view_new (SwStore *store, SwPictures *pictures)
{
  SwOutletsView *self = g_object_new (SW_TYPE_OUTLETS_VIEW, NULL);

  self->store = g_object_ref (store);
  return GTK_WIDGET (self);
}

void
sw_outlets_view_load (GtkWidget *view)
{
  SwOutletsView *self = SW_OUTLETS_VIEW (view);
  SwInstant now = sw_clock_now ();

  sw_store_read (self->store, SW_RANK_VISIBLE, read_outlets, g_memdup2 (&now, sizeof now), g_free,
                 outlets_read_free, NULL, on_outlets, g_object_ref (self));
}

void
sw_outlets_view_focus (GtkWidget *view)
{
  gtk_widget_grab_focus (SW_OUTLETS_VIEW (view)->chooser);
}
