/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One table of what can be entered, and the row that is made of it on the catalogue thread. */
#include "app/slip-form.h"

#include "app/ask-form.h"
#include "app/clock.h"
#include "app/text.h"
#include "core/catalogue/deals.h"
#include "core/catalogue/outlets.h"
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
    SW_FIELD_TEXT, N_ ("On _day"), N_ ("today, else YYYY-MM-DD"), NULL                             \
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
          { SW_FIELD_TEXT, N_ ("From _day"), N_ ("today, else YYYY-MM-DD"), NULL } } } },
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

/* A day left empty is this moment, so that two equal payments of one day are two. */
static void
add_cell (SwSlip *slip, SwColumn column, const char *value, SwInstant now, const SwZone *zone)
{
  if (*value != '\0')
    sw_slip_text (slip, column, value);
  else if (column == SW_COLUMN_AT)
    sw_slip_instant (slip, column, now);
  else if (column == SW_COLUMN_FROM)
    sw_slip_day (slip, column, sw_day_of_instant (now, zone));
}

static gboolean
run_entry (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Entry *entry = data;
  const Slip *kind = &slips[entry->kind];
  g_autoptr (SwSlip) slip = sw_slip_new (catalogue);
  g_autofree char *ref
      = kind->row == SW_ROW_SALE ? sw_deal_free_ref (catalogue, REF_PREFIX, error) : g_strdup ("");
  g_autofree char *sentence = NULL;

  if (ref == NULL)
    return FALSE;
  sentence = g_strdup_printf ("%s %s", _ (kind->done), kind->has_of ? entry->of : entry->values[0]);
  sw_slip_row (slip, kind->row);
  if (kind->has_of)
    sw_slip_text (slip, kind->of, entry->of);
  if (*ref != '\0')
    sw_slip_text (slip, SW_COLUMN_REF, ref);
  for (guint i = 0; entry->values[i] != NULL; i++)
    add_cell (slip, kind->columns[i], entry->values[i], entry->now, sw_catalogue_zone (catalogue));
  return sw_slip_book (slip, sentence, NULL, error);
}

static void
send_entry (SwStore *store, char **values, gpointer data, GObject *owner, SwTryDone done)
{
  const Entry *form = data;
  Entry *entry = g_new0 (Entry, 1);

  entry->kind = form->kind;
  entry->of = g_strdup (form->of);
  entry->values = g_strdupv (values);
  entry->now = sw_clock_now ();
  sw_store_try (store, run_entry, entry, entry_free, owner, done);
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
    {
      ask.above = gtk_label_new (about);
      gtk_label_set_xalign (GTK_LABEL (ask.above), 0);
      gtk_label_set_line_wrap (GTK_LABEL (ask.above), TRUE);
      gtk_label_set_max_width_chars (GTK_LABEL (ask.above), 44);
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
