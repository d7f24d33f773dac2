/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The items as check boxes over the fields of an offer. */
#include "app/put-up-form.h"

#include "app/ask-form.h"
#include "app/clock.h"
#include "app/pack-form.h"
#include "app/text.h"
#include "app/widgets.h"
#include "core/base/error.h"
#include "core/base/plain-time.h"
#include "core/trade/offering.h"

/* ---- what is read ---- */

typedef struct
{
  SwItem *item;
  char *why_not; /* NULL: it can be put up */
} Candidate;

static void
candidate_free (gpointer data)
{
  sw_item_free (((Candidate *)data)->item);
  g_free (((Candidate *)data)->why_not);
  g_free (data);
}

typedef struct
{
  GPtrArray *candidates;
  GPtrArray *outlets; /* char, NULL-terminated */
  char *likely;       /* the outlet that most are meant for, else the only one; NULL */
} Read;

static void
read_free (gpointer data)
{
  Read *read = data;

  g_clear_pointer (&read->candidates, g_ptr_array_unref);
  g_clear_pointer (&read->outlets, g_ptr_array_unref);
  g_free (read->likely);
  g_free (read);
}

static gboolean
add_item (SwCatalogue *catalogue, Read *read, gint64 number, GError **error)
{
  Candidate *candidate = g_new0 (Candidate, 1);

  g_ptr_array_add (read->candidates, candidate);
  candidate->item = sw_item_get (catalogue, number, error);
  if (candidate->item == NULL)
    return FALSE;
  candidate->why_not = sw_offering_why_not (catalogue, candidate->item);
  if (read->likely == NULL)
    read->likely = g_strdup (candidate->item->outlet_name);
  return TRUE;
}

static gboolean
add_state (SwCatalogue *catalogue, Read *read, SwState state, GError **error)
{
  const SwItemFilter filter = { .state = &state, .order = SW_ITEMS_BY_NAME };
  g_autoptr (GPtrArray) items = sw_item_list (catalogue, &filter, error);

  if (items == NULL)
    return FALSE;
  for (guint i = 0; i < items->len; i++)
    if (!add_item (catalogue, read, ((const SwItem *)g_ptr_array_index (items, i))->id, error))
      return FALSE;
  return TRUE;
}

static gboolean
read_outlets (SwCatalogue *catalogue, Read *read, GError **error)
{
  g_autoptr (GPtrArray) outlets = sw_outlet_list (catalogue, error);

  if (outlets == NULL)
    return FALSE;
  for (guint i = 0; i < outlets->len; i++)
    {
      const SwOutlet *outlet = g_ptr_array_index (outlets, i);
      if (!outlet->has_kind
          || (outlet->kind != SW_OUTLET_SCRAP_YARD && outlet->kind != SW_OUTLET_GIFT))
        g_ptr_array_add (read->outlets, g_strdup (outlet->name));
    }
  g_ptr_array_add (read->outlets, NULL);
  return TRUE;
}

static gboolean
read_items (SwCatalogue *catalogue, Read *read, const GArray *items, GError **error)
{
  for (guint i = 0; i < items->len; i++)
    if (!add_item (catalogue, read, g_array_index (items, gint64, i), error))
      return FALSE;
  return items->len > 0
         || (add_state (catalogue, read, SW_STATE_READY, error)
             && add_state (catalogue, read, SW_STATE_AT_HOME, error));
}

static gpointer
read_all (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  Read *read = g_new0 (Read, 1);

  read->candidates = g_ptr_array_new_with_free_func (candidate_free);
  read->outlets = g_ptr_array_new_with_free_func (g_free);
  if (read_items (catalogue, read, data, error) && read_outlets (catalogue, read, error))
    return read;
  read_free (read);
  return NULL;
}

/* ---- the act ---- */

enum
{
  OUTLET,
  CLOSES,
  STEP,
  START,
  RESERVE,
  HOPED,
  LOT,
  ROUND,
  EXTRA,
  ALSO,
};

static const SwAskSpec spec = {
  N_ ("Put up"),
  N_ ("_Put up"),
  { { SW_FIELD_CHOICE, N_ ("_Outlet"), NULL, NULL },
    { SW_FIELD_TEXT, N_ ("C_loses"), N_ ("Sunday 20:00; empty: stays up"), NULL },
    { SW_FIELD_TEXT, N_ ("Then every"), N_ ("2 min, 20 s"), NULL },
    { SW_FIELD_MONEY, N_ ("_Start"), N_ ("the asking price"), NULL },
    { SW_FIELD_MONEY, N_ ("_Reserve"), N_ ("the item's own"), NULL },
    { SW_FIELD_MONEY, N_ ("_Hoped for"), N_ ("the asking price"), NULL },
    { SW_FIELD_CHECK, N_ ("All together as _one lot"), NULL, NULL },
    { SW_FIELD_TEXT, N_ ("Roun_d"), N_ ("a title, to compare rounds by"), NULL },
    { SW_FIELD_TEXT, N_ ("Al_so to be had"), N_ ("with it, for the buyer who asks"), NULL },
    { SW_FIELD_TEXT, N_ ("A_t once through"), N_ ("other outlets, with commas between"), NULL } }
};

typedef struct
{
  GArray *items;
  char **values;
  SwInstant now;
} PutUp;

static void
put_up_free (gpointer data)
{
  PutUp *put_up = data;

  g_array_unref (put_up->items);
  g_strfreev (put_up->values);
  g_free (put_up);
}

/* *out_has FALSE for an empty one. */
static gboolean
money_of (SwCatalogue *catalogue, const char *text, gboolean *out_has, SwMoney *out, GError **error)
{
  *out_has = *text != '\0';
  return !*out_has
         || sw_money_parse_plain (text, sw_catalogue_currency (catalogue), FALSE, out, error);
}

static gboolean
times_of (SwCatalogue *catalogue, const PutUp *put_up, SwInstant *closes, gint64 *step_s,
          GError **error)
{
  char **values = put_up->values;

  if (*values[CLOSES] != '\0'
      && !sw_plain_time_parse (values[CLOSES], put_up->now, sw_catalogue_zone (catalogue), closes,
                               error))
    return FALSE;
  return *values[STEP] == '\0' || sw_plain_step_parse (values[STEP], step_s, error);
}

static const char *
text_or_null (const char *text)
{
  return *text != '\0' ? text : NULL;
}

static gboolean
run_put_up (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const PutUp *put_up = data;
  char **values = put_up->values;
  SwInstant closes = { 0 };
  gint64 step_s = 0;
  SwMoney start, reserve, hoped;
  gboolean has_start, has_reserve, has_hoped;

  if (!times_of (catalogue, put_up, &closes, &step_s, error)
      || !money_of (catalogue, values[START], &has_start, &start, error)
      || !money_of (catalogue, values[RESERVE], &has_reserve, &reserve, error)
      || !money_of (catalogue, values[HOPED], &has_hoped, &hoped, error))
    return FALSE;
  const SwOffering offering
      = { .items = (const gint64 *)(gconstpointer)put_up->items->data,
          .n = put_up->items->len,
          .as_lot = *values[LOT] != '\0',
          .outlet = values[OUTLET],
          .up = sw_day_of_instant (put_up->now, sw_catalogue_zone (catalogue)),
          .closes = *values[CLOSES] != '\0' ? &closes : NULL,
          .step_s = step_s,
          .start = has_start ? &start : NULL,
          .reserve = has_reserve ? &reserve : NULL,
          .hoped = has_hoped ? &hoped : NULL,
          .round = text_or_null (values[ROUND]),
          .extra = text_or_null (values[EXTRA]) };
  return sw_offering_make_in (catalogue, &offering, values[ALSO], error);
}

/* ---- the window ---- */

typedef struct
{
  SwStore *store;
  GtkWindow *parent; /* weak */
  GArray *items;     /* asked for */
  GPtrArray *checks; /* GtkWidget, counted: the dialog may be gone before the form's data */
} Form;

static void
form_free (gpointer data)
{
  Form *form = data;

  g_clear_weak_pointer (&form->parent);
  g_array_unref (form->items);
  g_ptr_array_unref (form->checks);
  g_object_unref (form->store);
  g_free (form);
}

#define NUMBER "sw-number"
#define FORM "sw-form"

static GArray *
chosen_items (const Form *form)
{
  GArray *items = g_array_new (FALSE, FALSE, sizeof (gint64));

  for (guint i = 0; i < form->checks->len; i++)
    {
      GtkWidget *check = g_ptr_array_index (form->checks, i);
      const gint64 *number = g_object_get_data (G_OBJECT (check), NUMBER);
      if (gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (check)))
        g_array_append_val (items, *number);
    }
  return items;
}

static void
send_put_up (SwStore *store, char **values, gpointer data, GObject *owner, SwTryDone done)
{
  g_autoptr (GArray) items = chosen_items (data);
  PutUp *put_up;

  if (items->len == 0)
    done (owner, _ ("Nothing is chosen; tick what is to be put up."));
  else if (*values[OUTLET] == '\0')
    done (owner, _ ("There is no outlet yet; enter one under On offer, Outlets."));
  else
    {
      put_up = g_new0 (PutUp, 1);
      put_up->items = g_steal_pointer (&items);
      put_up->values = g_strdupv (values);
      put_up->now = sw_clock_now ();
      sw_store_try (store, run_put_up, put_up, put_up_free, owner, done);
    }
}

static GtkWidget *
check_new (const Form *form, const Candidate *candidate)
{
  const SwItem *item = candidate->item;
  g_autofree char *money
      = item->has_asking ? sw_store_money (form->store, item->asking) : g_strdup (_ ("no price"));
  /* why not is a sentence that begins with its name */
  g_autofree char *text = candidate->why_not != NULL
                              ? g_strdup (candidate->why_not)
                              : g_strdup_printf (_ ("%s, %s"), item->name, money);
  GtkWidget *check = gtk_check_button_new_with_label (text);

  gtk_label_set_line_wrap (GTK_LABEL (gtk_bin_get_child (GTK_BIN (check))), TRUE);
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (check),
                                candidate->why_not == NULL && form->items->len > 0);
  gtk_widget_set_sensitive (check, candidate->why_not == NULL);
  g_object_set_data_full (G_OBJECT (check), NUMBER, g_memdup2 (&item->id, sizeof item->id), g_free);
  g_ptr_array_add (form->checks, g_object_ref (check));
  return check;
}

/* The items, scrolled where they are many. */
static GtkWidget *
items_new (Form *form, const Read *read)
{
  GtkWidget *scrolled = gtk_scrolled_window_new (NULL, NULL);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);

  for (guint i = 0; i < read->candidates->len; i++)
    gtk_container_add (GTK_CONTAINER (box),
                       check_new (form, g_ptr_array_index (read->candidates, i)));
  if (read->candidates->len == 0)
    sw_container_add_line (box,
                           _ ("Nothing is ready to be put up. An item is ready once it has a "
                              "name, a place, a count, an asking price and no open claim."),
                           "dim-label");
  gtk_container_add (GTK_CONTAINER (scrolled), box);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER,
                                  GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scrolled), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scrolled), 200);
  return scrolled;
}

/* Before it is put up the pack is of use: somewhere else title and photos have to be entered. */
static void
on_pack (GtkWidget *button, Form *form)
{
  g_autoptr (GArray) items = chosen_items (form);
  GtkWidget *window = gtk_widget_get_toplevel (button);

  sw_pack_form_open_items (GTK_WINDOW (window), form->store,
                           (const gint64 *)(gconstpointer)items->data, items->len,
                           sw_ask_form_choice (window, OUTLET));
}

static void
follow_ticks (GtkToggleButton *check, GtkWidget *pack)
{
  const Form *form = g_object_get_data (G_OBJECT (pack), FORM);
  g_autoptr (GArray) items = chosen_items (form);

  gtk_widget_set_sensitive (pack, items->len > 0);
}

/* Asleep until something is ticked. */
static GtkWidget *
pack_button_new (Form *form)
{
  GtkWidget *pack = gtk_button_new_with_mnemonic (_ ("Pac_k…"));

  gtk_widget_set_tooltip_text (
      pack,
      _ ("Photos, title and text of what is ticked, together, as a folder to put it up with"));
  gtk_widget_set_halign (pack, GTK_ALIGN_START);
  g_object_set_data (G_OBJECT (pack), FORM, form);
  g_signal_connect (pack, "clicked", G_CALLBACK (on_pack), form);
  for (guint i = 0; i < form->checks->len; i++)
    g_signal_connect_object (g_ptr_array_index (form->checks, i), "toggled",
                             G_CALLBACK (follow_ticks), pack, 0);
  follow_ticks (NULL, pack);
  return pack;
}

/* What stands over the fields. */
static GtkWidget *
above_new (Form *form, const Read *read)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);

  gtk_container_add (GTK_CONTAINER (box), items_new (form, read));
  if (read->candidates->len > 0)
    gtk_container_add (GTK_CONTAINER (box), pack_button_new (form));
  return box;
}

static void
open_form (Form *form, const Read *read)
{
  const char *begun[SW_ASK_FIELDS] = { NULL };
  const SwAsk ask = { .spec = &spec,
                      .begun = begun,
                      .choices = (const char *const *)(gconstpointer)read->outlets->pdata,
                      .above = above_new (form, read),
                      .send = send_put_up,
                      .data = form,
                      .destroy = form_free };

  begun[OUTLET] = read->likely;
  sw_ask_form_show (form->parent, form->store, &ask);
}

static void
on_read (GObject *object, GAsyncResult *result, gpointer data)
{
  Form *form = data;
  g_autoptr (GError) error = NULL;
  Read *read = sw_store_finish (form->store, result, &error);

  if (read != NULL && form->parent != NULL)
    {
      open_form (form, read); /* takes the form */
      read_free (read);
      return;
    }
  g_clear_pointer (&read, read_free);
  if (error != NULL && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    sw_store_tell (form->store, error->message, TRUE);
  form_free (form);
}

void
sw_put_up_form_show (GtkWindow *parent, SwStore *store, const gint64 *items, guint n)
{
  Form *form = g_new0 (Form, 1);

  form->store = g_object_ref (store);
  g_set_weak_pointer (&form->parent, parent);
  form->items = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_array_append_vals (form->items, items, n);
  form->checks = g_ptr_array_new_with_free_func (g_object_unref);
  sw_store_read (store, SW_RANK_VISIBLE, read_all, g_array_ref (form->items),
                 (GDestroyNotify)g_array_unref, read_free, NULL, on_read, form);
}
