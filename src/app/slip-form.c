/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One table of what can be entered, and the row that is made of it on the catalogue thread. */
#include "app/slip-form.h"

#include "app/ask-form.h"
#include "app/clock.h"
#include "app/text.h"
#include "app/typed-day.h"
#include "core/catalogue/deals.h"
#include "core/catalogue/outlets.h"
#include "core/trade/outlet-sheet.h"
#include "core/trade/slip.h"

/* Refs that the program gives to sales without an offer begin so. */
#define REF_PREFIX "S"

static const char *const results[] = { "sold", "no sale", "withdrawn", NULL };
static const char *const roundings[] = { "half-up", "half-even", NULL };
#define AS_WORD(tag, word) word,
static const char *const kinds[] = { SW_OUTLET_KINDS (AS_WORD) NULL };
static const char *const bases[] = { SW_CHARGE_BASES (AS_WORD) NULL };

#define DAY_FIELD                                                                                  \
  {                                                                                                \
    SW_FIELD_TEXT, N_ ("On _day"), SW_DAY_HINT_TODAY, NULL                                         \
  }
#define MONEY_FIELD(label, hint)                                                                   \
  {                                                                                                \
    SW_FIELD_MONEY, label, hint, NULL                                                              \
  }

typedef struct
{
  SwRowKind row;
  gboolean has_of;
  SwColumn of;                     /* the column of what it speaks of */
  const char *done;                /* sentence of the act, before what it speaks of */
  SwColumn columns[SW_ASK_FIELDS]; /* one a field */
  SwAskSpec spec;
} Slip;

static const Slip slips[SW_N_SLIPS] = {
  [SW_SLIP_SALE] = { SW_ROW_SALE,
                     FALSE,
                     0,
                     N_ ("Sale"),
                     { SW_COLUMN_ITEM, SW_COLUMN_AMOUNT, SW_COLUMN_COUNT, SW_COLUMN_OUTLET,
                       SW_COLUMN_DELIVERY, SW_COLUMN_BUYER, SW_COLUMN_AT },
                     { N_ ("Sale without an offer"),
                       N_ ("_Sold"),
                       { { SW_FIELD_TEXT, N_ ("_Item"), N_ ("its number or name"), NULL },
                         MONEY_FIELD (N_ ("_Amount"), N_ ("what was paid for it")),
                         { SW_FIELD_TEXT, N_ ("_Count"), N_ ("all"), NULL },
                         { SW_FIELD_TEXT, N_ ("_Outlet"), N_ ("none: by hand"), NULL },
                         MONEY_FIELD (N_ ("_Delivery paid"), N_ ("nothing")),
                         { SW_FIELD_TEXT, N_ ("_Buyer"), N_ ("may stay empty"), NULL },
                         DAY_FIELD } } },
  [SW_SLIP_RESULT]
  = { SW_ROW_RESULT,
      TRUE,
      SW_COLUMN_REF,
      N_ ("Result of"),
      { SW_COLUMN_RESULT, SW_COLUMN_AMOUNT, SW_COLUMN_DELIVERY, SW_COLUMN_BUYER, SW_COLUMN_AT },
      { N_ ("Result"),
        N_ ("_Book"),
        { { SW_FIELD_CHOICE, N_ ("_Result"), NULL, results },
          MONEY_FIELD (N_ ("_Amount"), N_ ("where it was sold")),
          MONEY_FIELD (N_ ("_Delivery paid"), N_ ("nothing")),
          { SW_FIELD_TEXT, N_ ("_Buyer"), N_ ("may stay empty"), NULL },
          DAY_FIELD } } },
  [SW_SLIP_COLLECTED] = { SW_ROW_COLLECTED,
                          TRUE,
                          SW_COLUMN_REF,
                          N_ ("Collected:"),
                          { SW_COLUMN_AT },
                          { N_ ("Collected"), N_ ("_Collected"), { DAY_FIELD } } },
  [SW_SLIP_REVERSAL]
  = { SW_ROW_REVERSAL,
      TRUE,
      SW_COLUMN_REF,
      N_ ("Taken back:"),
      { SW_COLUMN_AMOUNT, SW_COLUMN_AT },
      { N_ ("Refund or fall-through"),
        N_ ("_Take back"),
        { MONEY_FIELD (N_ ("_Amount"), N_ ("all: the sale falls through")), DAY_FIELD } } },
  [SW_SLIP_FEE] = { SW_ROW_FEE,
                    TRUE,
                    SW_COLUMN_REF,
                    N_ ("Fee as charged for"),
                    { SW_COLUMN_CHARGE, SW_COLUMN_AMOUNT, SW_COLUMN_AT },
                    { N_ ("Fee as charged"),
                      N_ ("_Book"),
                      { { SW_FIELD_TEXT, N_ ("_Charge"), N_ ("its name in the terms"), NULL },
                        MONEY_FIELD (N_ ("_Amount"), N_ ("with its tax; 0 gives it back")),
                        DAY_FIELD } } },
  [SW_SLIP_OUTLET] = { SW_ROW_OUTLET,
                       FALSE,
                       0,
                       N_ ("Outlet"),
                       { SW_COLUMN_OUTLET, SW_COLUMN_KIND, SW_COLUMN_RUNNING_DAYS,
                         SW_COLUMN_PAY_DAYS, SW_COLUMN_COLLECT_DAYS, SW_COLUMN_ROUNDING },
                       { N_ ("Outlet"),
                         N_ ("_Keep"),
                         { { SW_FIELD_TEXT, N_ ("_Name"), NULL, NULL },
                           { SW_FIELD_CHOICE, N_ ("_Kind"), NULL, kinds },
                           { SW_FIELD_TEXT, N_ ("Days an offer _runs"), N_ ("not said"), NULL },
                           { SW_FIELD_TEXT, N_ ("Days to _pay"), N_ ("not said"), NULL },
                           { SW_FIELD_TEXT, N_ ("Days to c_ollect"), N_ ("not said"), NULL },
                           { SW_FIELD_CHOICE, N_ ("Rounds cen_ts"), NULL, roundings } } } },
  [SW_SLIP_CHARGE]
  = { SW_ROW_CHARGE,
      TRUE,
      SW_COLUMN_OUTLET,
      N_ ("Terms of"),
      { SW_COLUMN_CHARGE, SW_COLUMN_ON, SW_COLUMN_FLAT, SW_COLUMN_TIERS, SW_COLUMN_LEAST,
        SW_COLUMN_MOST, SW_COLUMN_TAX, SW_COLUMN_FREE, SW_COLUMN_FROM },
      { N_ ("Charge"),
        N_ ("_Keep"),
        { { SW_FIELD_TEXT, N_ ("_Name"), N_ ("success fee, listing fee…"), NULL },
          { SW_FIELD_CHOICE, N_ ("Raised _on"), NULL, bases },
          MONEY_FIELD (N_ ("_Flat"), N_ ("on an offer or a sale")),
          { SW_FIELD_TEXT, N_ ("Per_cent"), N_ ("10% or 500:10%;:4%, on a price"), NULL },
          MONEY_FIELD (N_ ("At _least"), N_ ("no bound")),
          MONEY_FIELD (N_ ("At _most"), N_ ("no bound")),
          { SW_FIELD_TEXT, N_ ("_Tax on it"), N_ ("none, else 15%"), NULL },
          { SW_FIELD_TEXT, N_ ("F_ree a month"), N_ ("offers not charged"), NULL },
          { SW_FIELD_TEXT, N_ ("From _day"), SW_DAY_HINT_TODAY, NULL } } } },
};

/* ---- on the catalogue thread ---- */

typedef struct
{
  SwSlipKind kind;
  char *of;
  char **values;
  SwInstant now;
} Entry;

static void
entry_free (gpointer data)
{
  Entry *entry = data;

  g_free (entry->of);
  g_strfreev (entry->values);
  g_free (entry);
}

static gboolean
add_cell (SwSlip *slip, SwCatalogue *catalogue, SwColumn column, const char *value, SwInstant now,
          GError **error)
{
  if (column == SW_COLUMN_AT)
    return sw_typed_moment_into (slip, column, catalogue, value, now, error);
  if (column == SW_COLUMN_FROM)
    return sw_typed_day_into (slip, column, catalogue, value, now, error);
  if (*value != '\0')
    sw_slip_text (slip, column, value);
  return TRUE;
}

/* Faults name the field, not the column of the table that it fills. */
static void
name_column (SwSlip *slip, SwColumn column, const char *label)
{
  g_auto (GStrv) parts = g_strsplit (_ (label), "_", -1);
  g_autofree char *name = g_strjoinv (NULL, parts);

  sw_slip_name (slip, column, name);
}

/* The row of the money table that was typed; NULL with an error. Transfer full. */
static SwSlip *
slip_of (SwCatalogue *catalogue, const Entry *entry, GError **error)
{
  const Slip *kind = &slips[entry->kind];
  g_autoptr (SwSlip) slip = sw_slip_new (catalogue);
  g_autofree char *ref
      = kind->row == SW_ROW_SALE ? sw_deal_free_ref (catalogue, REF_PREFIX, error) : g_strdup ("");

  if (ref == NULL)
    return NULL;
  sw_slip_row (slip, kind->row);
  if (kind->has_of)
    sw_slip_text (slip, kind->of, entry->of);
  if (*ref != '\0')
    sw_slip_text (slip, SW_COLUMN_REF, ref);
  for (guint i = 0; entry->values[i] != NULL; i++)
    {
      name_column (slip, kind->columns[i], kind->spec.fields[i].label);
      if (!add_cell (slip, catalogue, kind->columns[i], entry->values[i], entry->now, error))
        return NULL;
    }
  return g_steal_pointer (&slip);
}

static gboolean
run_entry (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Entry *entry = data;
  const Slip *kind = &slips[entry->kind];
  g_autoptr (SwSlip) slip = slip_of (catalogue, entry, error);
  g_autofree char *sentence
      = g_strdup_printf ("%s %s", _ (kind->done), kind->has_of ? entry->of : entry->values[0]);

  return slip != NULL && sw_slip_book (slip, sentence, NULL, error);
}

static Entry *
entry_of (const Entry *form, char **values)
{
  Entry *entry = g_new0 (Entry, 1);

  entry->kind = form->kind;
  entry->of = g_strdup (form->of);
  entry->values = g_strdupv (values);
  entry->now = sw_clock_now ();
  return entry;
}

static void
send_entry (SwStore *store, char **values, gpointer data, GObject *owner, SwTryDone done)
{
  sw_store_try (store, run_entry, entry_of (data, values), entry_free, owner, done);
}

/* ---- what a charge would do to a sale, while it is typed ---- */

static guint
field_of (SwSlipKind kind, SwColumn column)
{
  guint i = 0;

  while (slips[kind].columns[i] != column)
    i++;
  return i;
}

/* By the terms of today, or of the day from which the charge runs where that is later. */
static gpointer
read_sheet (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  const Entry *entry = data;
  g_autoptr (SwSlip) slip = slip_of (catalogue, entry, error);
  SwDay day = sw_day_of_instant (entry->now, sw_catalogue_zone (catalogue)), from;

  if (slip == NULL)
    return NULL;
  if (sw_typed_day (catalogue, entry->values[field_of (entry->kind, SW_COLUMN_FROM)], SW_DAY_NEAR,
                    &from, NULL))
    day.n = MAX (day.n, from.n);
  return sw_outlet_sheet_if (catalogue, slip, entry->of, day, error);
}

static char *
sheet_words (SwStore *store, const SwOutletSheet *sheet)
{
  GString *text = g_string_new (NULL);
  g_autofree char *unsold = sw_store_money (store, sheet->no_sale.fees);

  if (!sheet->has_quotes)
    {
      g_string_append (text, _ ("These terms come to more than can be added up."));
      return g_string_free (text, FALSE);
    }
  for (int i = 0; i < SW_QUOTED_PRICES; i++)
    {
      g_autofree char *price = sw_store_money (store, sheet->prices[i]);
      g_autofree char *fees = sw_store_money (store, sheet->quotes[i].fees);
      g_autofree char *leaves = sw_store_money (store, sheet->quotes[i].leaves);
      g_string_append_printf (text, _ ("A sale for %s would cost %s and leave %s."), price, fees,
                              leaves);
      g_string_append_c (text, '\n');
    }
  g_string_append_printf (text, _ ("No sale would cost %s."), unsold);
  return g_string_free (text, FALSE);
}

#define READING "sw-reading" /* the GCancellable of the read under way */

typedef struct
{
  SwStore *store;
  GtkWidget *below;
} Following;

static void
on_sheet (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autofree Following *following = data;
  g_autoptr (SwStore) store = following->store;
  g_autoptr (GtkWidget) below = following->below;
  g_autoptr (GError) error = NULL;
  SwOutletSheet *sheet = sw_store_finish (store, result, &error);
  g_autofree char *words = sheet != NULL ? sheet_words (store, sheet) : NULL;

  if (words != NULL)
    gtk_label_set_text (GTK_LABEL (below), words);
  else if (error != NULL && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    gtk_label_set_text (GTK_LABEL (below), error->message);
  sw_outlet_sheet_free (sheet);
}

static void
follow_charge (SwStore *store, char **values, gpointer data, GtkWidget *below)
{
  GCancellable *before = g_object_get_data (G_OBJECT (below), READING), *cancellable;
  Following *following;

  if (before != NULL)
    g_cancellable_cancel (before);
  g_object_set_data (G_OBJECT (below), READING, NULL);
  if (values == NULL || *values[field_of (SW_SLIP_CHARGE, SW_COLUMN_CHARGE)] == '\0'
      || (*values[field_of (SW_SLIP_CHARGE, SW_COLUMN_FLAT)] == '\0'
          && *values[field_of (SW_SLIP_CHARGE, SW_COLUMN_TIERS)] == '\0'))
    {
      gtk_label_set_text (GTK_LABEL (below),
                          _ ("With a name and a flat sum or percent, what sales would cost and "
                             "leave stands here."));
      return;
    }
  cancellable = g_cancellable_new ();
  g_object_set_data_full (G_OBJECT (below), READING, cancellable, g_object_unref);
  following = g_new0 (Following, 1);
  following->store = g_object_ref (store);
  following->below = g_object_ref (below);
  sw_store_read (store, SW_RANK_VISIBLE, read_sheet, entry_of (data, values), entry_free,
                 (GDestroyNotify)sw_outlet_sheet_free, cancellable, on_sheet, following);
}

static GtkWidget *
line_new (const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_line_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 44);
  return label;
}

/* A line for each price that is quoted and one for no sale, so that the window does not grow. */
static GtkWidget *
quotes_new (void)
{
  GtkWidget *label = line_new ("");
  g_autoptr (GString) lines = g_string_new (NULL);
  g_autoptr (PangoLayout) layout = NULL;
  int height = 0;

  for (int i = 0; i < SW_QUOTED_PRICES; i++)
    g_string_append_c (lines, '\n');
  layout = gtk_widget_create_pango_layout (label, lines->str);
  pango_layout_get_pixel_size (layout, NULL, &height);
  gtk_widget_set_size_request (label, -1, height);
  gtk_label_set_yalign (GTK_LABEL (label), 0);
  return label;
}

void
sw_slip_form_show (GtkWindow *parent, SwStore *store, SwSlipKind kind, const char *of,
                   const char *about, const char *const *begun)
{
  Entry *entry = g_new0 (Entry, 1);
  SwAsk ask = { .spec = &slips[kind].spec,
                .begun = begun,
                .send = send_entry,
                .data = entry,
                .destroy = entry_free };

  entry->kind = kind;
  entry->of = g_strdup (of);
  if (about != NULL)
    ask.above = line_new (about);
  if (kind == SW_SLIP_CHARGE)
    {
      ask.below = quotes_new ();
      ask.follow = follow_charge;
    }
  sw_ask_form_show (parent, store, &ask);
}

void
sw_slip_form_show_sale (GtkWindow *parent, SwStore *store, const char *about, const char *buyer)
{
  const char *begun[SW_ASK_FIELDS] = { NULL };

  for (guint i = 0; slips[SW_SLIP_SALE].spec.fields[i].label != NULL; i++)
    if (slips[SW_SLIP_SALE].columns[i] == SW_COLUMN_BUYER)
      begun[i] = buyer;
  sw_slip_form_show (parent, store, SW_SLIP_SALE, NULL, about, begun);
}
