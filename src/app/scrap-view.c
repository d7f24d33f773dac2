/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pile's things and the dockets in one list, the classes in a table below it. Sums are core's.
 */
#include "app/scrap-view.h"

#include "app/docket-form.h"
#include "app/row-list.h"
#include "app/scrap-forms.h"
#include "app/side-box.h"
#include "app/text.h"
#include "app/widgets.h"
#include "core/catalogue/deals.h"
#include "core/catalogue/outlets.h"
#include "core/catalogue/yard-rates.h"
#include "core/trade/docket-sheet.h"
#include "core/trade/scrap-pile.h"
#include "core/trade/scrap.h"

/* What the list and the table show; read in one go, counted by its rows. */
typedef struct
{
  gatomicrefcount count;
  GPtrArray *items;   /* SwItem, For scrap */
  GArray *floors;     /* SwItemFloor, one an item */
  GPtrArray *dockets; /* SwDocketSheet, the latest first */
  GPtrArray *yards;   /* char, NULL-terminated */
  SwScrapPile pile;
  gboolean has_load;
  SwMoney cartage;
  SwMass load;
} Pile;

struct _SwScrapView
{
  GtkBox parent;
  SwStore *store;
  Pile *pile; /* NULL: not read yet */
  GtkWidget *stack, *summary, *list, *classes, *load_words;
};

G_DEFINE_TYPE (SwScrapView, sw_scrap_view, GTK_TYPE_BOX)

static void
floor_clear (gpointer data)
{
  sw_item_floor_clear (data);
}

static void
pile_unref (gpointer data)
{
  Pile *pile = data;

  if (!g_atomic_ref_count_dec (&pile->count))
    return;
  g_clear_pointer (&pile->items, g_ptr_array_unref);
  g_clear_pointer (&pile->floors, g_array_unref);
  g_clear_pointer (&pile->dockets, g_ptr_array_unref);
  g_clear_pointer (&pile->yards, g_ptr_array_unref);
  sw_scrap_pile_clear (&pile->pile);
  g_free (pile);
}

/* ---- reading ---- */

static gboolean
read_items (SwCatalogue *catalogue, Pile *pile, GError **error)
{
  const SwState state = SW_STATE_FOR_SCRAP;
  const SwItemFilter filter = { .state = &state };

  pile->items = sw_item_list (catalogue, &filter, error);
  for (guint i = 0; pile->items != NULL && i < pile->items->len; i++)
    {
      SwItemFloor floor = { 0 };
      if (!sw_item_floor (catalogue, g_ptr_array_index (pile->items, i), &floor, error))
        return FALSE;
      g_array_append_val (pile->floors, floor);
    }
  return pile->items != NULL;
}

static gboolean
read_yards (SwCatalogue *catalogue, Pile *pile, GError **error)
{
  g_autoptr (GPtrArray) outlets = sw_outlet_list (catalogue, error);

  for (guint i = 0; outlets != NULL && i < outlets->len; i++)
    {
      const SwOutlet *outlet = g_ptr_array_index (outlets, i);
      if (outlet->has_kind && outlet->kind == SW_OUTLET_SCRAP_YARD)
        g_ptr_array_add (pile->yards, g_strdup (outlet->name));
    }
  g_ptr_array_add (pile->yards, NULL);
  return outlets != NULL;
}

static gpointer
read_pile (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  Pile *pile = g_new0 (Pile, 1);

  g_atomic_ref_count_init (&pile->count);
  pile->floors = g_array_new (FALSE, TRUE, sizeof (SwItemFloor));
  g_array_set_clear_func (pile->floors, floor_clear);
  pile->yards = g_ptr_array_new_with_free_func (g_free);
  if (read_items (catalogue, pile, error)
      && (pile->dockets = sw_docket_sheets (catalogue, error)) != NULL
      && read_yards (catalogue, pile, error)
      && sw_scrap_pile_read (catalogue, 0, &pile->pile, error)
      && sw_scrap_load_get (catalogue, &pile->has_load, &pile->cartage, &pile->load, error))
    return pile;
  pile_unref (pile);
  return NULL;
}

/* ---- rows: the things first, then the dockets ---- */

typedef struct
{
  SwStore *store;
  Pile *pile;
} Data;

static void
data_free (gpointer data)
{
  g_object_unref (((Data *)data)->store);
  pile_unref (((Data *)data)->pile);
  g_free (data);
}

static const SwDocketSheet *
docket_at (const Pile *pile, guint i)
{
  return i < pile->items->len ? NULL : g_ptr_array_index (pile->dockets, i - pile->items->len);
}

/* A docket has a third line: what was weighed. */
static SwRowKind
kind (gpointer data, guint i)
{
  return docket_at (((Data *)data)->pile, i) != NULL ? SW_ROW_OFFER : SW_ROW_ITEM;
}

/* Dockets below zero, so that no number is taken twice. */
static gint64
key (gpointer data, guint i)
{
  const Pile *pile = ((Data *)data)->pile;
  const SwDocketSheet *docket = docket_at (pile, i);

  return docket != NULL ? -docket->deal : ((const SwItem *)g_ptr_array_index (pile->items, i))->id;
}

static void
item_face (const Data *self, guint i, SwRowFace *face)
{
  const SwItem *item = g_ptr_array_index (self->pile->items, i);
  const SwItemFloor *floor = &g_array_index (self->pile->floors, SwItemFloor, i);
  g_autofree char *mass
      = item->has_mass ? sw_mass_to_text (item->mass) : g_strdup (_ ("mass not known"));
  g_autofree char *money = floor->known ? sw_store_money (self->store, floor->floor) : NULL;

  face->title = g_strdup (item->name);
  face->trail = g_strdup (money != NULL ? money : _ ("no floor"));
  face->icon = sw_state_icon (item->state);
  face->word = _ (sw_state_word (item->state));
  face->detail = g_strdup_printf (
      "%s, %s, %s", item->scrap_class != NULL ? item->scrap_class : _ ("class not said"), mass,
      item->place_path != NULL ? item->place_path : "");
  face->picture = item->first_photo;
}

static void
docket_face (const Data *self, const SwDocketSheet *docket, SwRowFace *face)
{
  g_autofree char *charges = sw_store_money (self->store, docket->charges);
  g_autofree char *charged
      = docket->charges.minor > 0 ? g_strdup_printf (_ (", %s charged"), charges) : g_strdup ("");
  g_autofree char *day = sw_day_written (docket->day);

  face->title = g_strdup_printf (_ ("Docket %s"), docket->ref);
  face->trail = sw_store_money (self->store, docket->amount);
  face->icon = sw_state_icon (SW_STATE_SCRAPPED);
  face->word = _ (sw_state_word (SW_STATE_SCRAPPED));
  face->detail = g_strdup_printf (
      "%s, %s%s", docket->outlet_name != NULL ? docket->outlet_name : "", day, charged);
  face->below = g_strdup (docket->other_class != NULL ? docket->other_class : docket->lines);
  if (docket->other_class != NULL)
    {
      face->below_icon = "sw-below-symbolic";
      face->below_word = _ ("Other class");
    }
  face->done = TRUE;
}

static void
face (gpointer data, guint i, SwRowFace *out_face)
{
  const Data *self = data;
  const SwDocketSheet *docket = docket_at (self->pile, i);

  if (docket != NULL)
    docket_face (self, docket, out_face);
  else
    item_face (self, i, out_face);
  out_face->sentence = g_strdup_printf (
      "%s, %s, %s, %s%s%s%s%s", out_face->title, out_face->word, out_face->trail, out_face->detail,
      out_face->below_word != NULL ? ", " : "",
      out_face->below_word != NULL ? out_face->below_word : "", out_face->below != NULL ? ", " : "",
      out_face->below != NULL ? out_face->below : "");
}

static const SwRowsFuncs funcs = { kind, key, face };

static void
show_rows (SwScrapView *self)
{
  Data *data = g_new0 (Data, 1);
  g_autoptr (SwRows) rows = NULL;

  data->store = g_object_ref (self->store);
  data->pile = self->pile;
  g_atomic_ref_count_inc (&self->pile->count);
  rows = sw_rows_new (self->pile->items->len + self->pile->dockets->len, &funcs, data, data_free);
  sw_row_list_set_rows (SW_ROW_LIST (self->list), rows);
}

/* ---- classes ---- */

static void
attach (SwScrapView *self, const char *text, int column, int row, const char *class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), column == 0 || column == 3 ? 0 : 1);
  gtk_label_set_line_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_set_hexpand (label, column == 3);
  if (class != NULL)
    gtk_style_context_add_class (gtk_widget_get_style_context (label), class);
  gtk_grid_attach (GTK_GRID (self->classes), label, column, row, 1, 1);
  gtk_widget_show (label);
}

static void
add_class (SwScrapView *self, const SwScrapClass *class, int row)
{
  g_autofree char *mass = sw_mass_to_text (class->mass);
  g_autofree char *heavy
      = class->unweighed > 0 ? g_strdup_printf (_ ("%s + ?"), mass) : g_strdup (mass);
  g_autofree char *gate
      = class->has_gate ? sw_store_money (self->store, class->at_gate) : g_strdup (_ ("no rate"));
  g_autofree char *fetch = sw_scrap_class_fetch_sentence (class);
  g_autofree char *fetched
      = class->has_fetched ? sw_store_money (self->store, class->fetched) : NULL;
  g_autofree char *words = fetch != NULL ? g_strdup_printf ("%s: %s", fetched, fetch)
                                         : g_strdup (_ ("no yard fetches it"));
  gboolean enough = class->has_fetched && class->lacking.ug == 0;

  attach (self, class->scrap_class != NULL ? class->scrap_class : _ ("class not said"), 0, row,
          NULL);
  attach (self, heavy, 1, row, NULL);
  attach (self, gate, 2, row, class->has_gate ? NULL : "dim-label");
  attach (self, words, 3, row, enough ? "sw-state" : fetch != NULL ? NULL : "dim-label");
}

static void
show_classes (SwScrapView *self)
{
  static const char *const heads[]
      = { N_ ("Class"), N_ ("Mass"), N_ ("At the gate"), N_ ("Fetched") };
  const GPtrArray *classes = self->pile->pile.classes;

  sw_container_empty (self->classes);
  for (int i = 0; classes->len > 0 && i < (int)G_N_ELEMENTS (heads); i++)
    attach (self, _ (heads[i]), i, 0, "dim-label");
  for (guint i = 0; i < classes->len; i++)
    add_class (self, g_ptr_array_index (classes, i), (int)i + 1);
}

static void
show_summary (SwScrapView *self)
{
  const SwScrapPile *pile = &self->pile->pile;
  g_autofree char *things = sw_text_count (pile->things, "%d thing", "%d things");
  g_autofree char *mass = sw_mass_to_text (pile->mass);
  g_autofree char *money = sw_store_money_with_code (self->store, pile->at_gate);
  g_autofree char *text = pile->unvalued > 0
                              ? g_strdup_printf (_ ("%s for scrap, %s, %s; %u without a value"),
                                                 things, mass, money, pile->unvalued)
                              : g_strdup_printf (_ ("%s for scrap, %s, %s"), things, mass, money);
  g_autofree char *cartage
      = self->pile->has_load ? sw_store_money (self->store, self->pile->cartage) : NULL;
  g_autofree char *load = self->pile->has_load ? sw_mass_to_text (self->pile->load) : NULL;
  g_autofree char *planned
      = self->pile->has_load ? g_strdup_printf (
            _ ("A load to the gate takes %s and costs %s of cartage."), load, cartage)
                             : g_strdup (_ ("No load is planned, so no cartage is taken off."));

  gtk_label_set_text (GTK_LABEL (self->summary), text);
  gtk_label_set_text (GTK_LABEL (self->load_words), planned);
}

static void
on_pile (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwScrapView) self = data;
  Pile *pile;

  if (self->store == NULL)
    return;
  pile = sw_store_finish (self->store, result, NULL);
  if (pile == NULL)
    return;
  g_clear_pointer (&self->pile, pile_unref);
  self->pile = pile;
  show_rows (self);
  show_classes (self);
  show_summary (self);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack),
                                    pile->items->len + pile->dockets->len > 0 ? "pile" : "none");
}

/* ---- buttons ---- */

static GtkWindow *
window_of (SwScrapView *self)
{
  return GTK_WINDOW (gtk_widget_get_toplevel (GTK_WIDGET (self)));
}

static void
on_docket (SwScrapView *self)
{
  if (self->pile != NULL)
    sw_docket_form_show (window_of (self), self->store,
                         (const char *const *)(gconstpointer)self->pile->yards->pdata,
                         self->pile->items);
}

static void
on_rate (SwScrapView *self)
{
  if (self->pile != NULL)
    sw_rate_form_show (window_of (self), self->store,
                       (const char *const *)(gconstpointer)self->pile->yards->pdata);
}

static void
on_load (SwScrapView *self)
{
  gboolean has = self->pile != NULL && self->pile->has_load;
  g_autofree char *cartage = has ? sw_store_money (self->store, self->pile->cartage) : NULL;
  g_autofree char *mass = has ? sw_mass_to_text (self->pile->load) : NULL;
  const char *begun[] = { cartage, mass };

  sw_load_form_show (window_of (self), self->store, begun);
}

/* ---- object ---- */

static void
sw_scrap_view_dispose (GObject *object)
{
  SwScrapView *self = SW_SCRAP_VIEW (object);

  g_clear_object (&self->store);
  g_clear_pointer (&self->pile, pile_unref);
  G_OBJECT_CLASS (sw_scrap_view_parent_class)->dispose (object);
}

#define BIND(name) gtk_widget_class_bind_template_child (widget, SwScrapView, name)

static void
sw_scrap_view_class_init (SwScrapViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_scrap_view_dispose;
  g_type_ensure (SW_TYPE_ROW_LIST);
  g_type_ensure (SW_TYPE_SIDE_BOX);
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/scrap-view.ui");
  BIND (stack);
  BIND (summary);
  BIND (list);
  BIND (classes);
  BIND (load_words);
  gtk_widget_class_bind_template_callback (widget, on_docket);
  gtk_widget_class_bind_template_callback (widget, on_rate);
  gtk_widget_class_bind_template_callback (widget, on_load);
}

static void
sw_scrap_view_init (SwScrapView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
sw_scrap_view_new (SwStore *store, SwPictures *pictures)
{
  SwScrapView *self = g_object_new (SW_TYPE_SCRAP_VIEW, NULL);

  self->store = g_object_ref (store);
  sw_row_list_set_pictures (SW_ROW_LIST (self->list), pictures);
  return GTK_WIDGET (self);
}

void
sw_scrap_view_load (GtkWidget *view)
{
  SwScrapView *self = SW_SCRAP_VIEW (view);

  sw_store_read (self->store, SW_RANK_VISIBLE, read_pile, NULL, NULL, pile_unref, NULL, on_pile,
                 g_object_ref (self));
}

void
sw_scrap_view_focus (GtkWidget *view)
{
  gtk_widget_grab_focus (SW_SCRAP_VIEW (view)->list);
}
