/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One table of forms, and what each does on the catalogue thread. */
#include "app/offer-forms.h"

#include "app/ask-form.h"
#include "app/clock.h"
#include "app/text.h"
#include "app/typed-day.h"
#include "core/catalogue/act.h"
#include "core/catalogue/buyers.h"
#include "core/catalogue/offer-notes.h"
#include "core/trade/holds.h"
#include "core/trade/slip.h"

typedef struct
{
  SwOfferFormKind kind;
  gint64 id;
  char **values;
  SwInstant now;
} Wish;

static void
wish_free (gpointer data)
{
  Wish *wish = data;

  g_strfreev (wish->values);
  g_free (wish);
}

/* ---- on the catalogue thread ---- */

static gboolean
amount_of (SwCatalogue *catalogue, const char *text, SwMoney *out, GError **error)
{
  return sw_money_parse_plain (text, sw_catalogue_currency (catalogue), FALSE, out, error);
}

static gboolean
run_price (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Wish *wish = data;
  SwMoney price;

  return amount_of (catalogue, wish->values[0], &price, error)
         && sw_offer_set_price (catalogue, wish->id, price, error);
}

static gboolean
run_enquiry (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Wish *wish = data;
  SwEnquiry enquiry = { .deal = wish->id,
                        .at = wish->now,
                        .person = wish->values[0],
                        .has_amount = *wish->values[1] != '\0',
                        .remark = wish->values[2] };

  return (!enquiry.has_amount || amount_of (catalogue, wish->values[1], &enquiry.amount, error))
         && sw_enquiry_add (catalogue, &enquiry, NULL, error);
}

static gboolean
run_hold (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Wish *wish = data;
  SwDay until;

  return sw_typed_day (catalogue, wish->values[0], SW_DAY_AHEAD, &until, error)
         && sw_enquiry_hold (catalogue, wish->id, until, error);
}

static gboolean
book_money (SwCatalogue *catalogue, SwRowKind row, const SwDeal *deal, const Wish *wish,
            const char *typed, const char *sentence, GError **error)
{
  g_autoptr (SwSlip) slip = sw_slip_new (catalogue);

  sw_slip_row (slip, row);
  sw_slip_text (slip, SW_COLUMN_REF, deal->ref);
  sw_slip_text (slip, SW_COLUMN_AMOUNT, wish->values[0]);
  return sw_typed_moment_into (slip, SW_COLUMN_AT, catalogue, typed, wish->now, error)
         && sw_slip_book (slip, sentence, NULL, error);
}

static gboolean
run_paid_back (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Wish *wish = data;
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwDeal) deal = sw_deal_get (catalogue, wish->id, error);
  g_autofree char *sentence
      = deal != NULL ? g_strdup_printf (_ ("Paid too much for %s: given back"), deal->ref) : NULL;

  return deal != NULL && sw_act_begin (&act, catalogue, error)
         && book_money (catalogue, SW_ROW_PAID_BACK, deal, wish, wish->values[2], sentence, error)
         && (*wish->values[1] == '\0' || sw_paid_back_in_cash (catalogue, wish->id, error))
         && sw_act_commit (&act, sentence, error);
}

static gboolean
run_payment (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Wish *wish = data;
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autoptr (SwDeal) deal = sw_deal_get (catalogue, wish->id, error);
  g_autofree char *sentence
      = deal != NULL ? g_strdup_printf (_ ("Payment of %s"), deal->ref) : NULL;

  return deal != NULL && sw_act_begin (&act, catalogue, error)
         && book_money (catalogue, SW_ROW_PAYMENT, deal, wish, wish->values[3], sentence, error)
         && sw_payment_tell (catalogue, wish->id, wish->values[1], wish->values[2], error)
         && sw_act_commit (&act, sentence, error);
}

static gboolean
run_next (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Wish *wish = data;
  SwMoney amount;

  return amount_of (catalogue, wish->values[1], &amount, error)
         && sw_sale_to_next (catalogue, wish->id, wish->values[0], amount, wish->now, NULL, error);
}

static gboolean
run_round (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Wish *wish = data;

  return sw_offer_into_round (catalogue, wish->id, wish->values[0], error);
}

/* ---- the forms ---- */

#define TEXT(label, hint)                                                                          \
  {                                                                                                \
    SW_FIELD_TEXT, label, hint, NULL                                                               \
  }
#define MONEY(label, hint)                                                                         \
  {                                                                                                \
    SW_FIELD_MONEY, label, hint, NULL                                                              \
  }

static const struct
{
  SwAskSpec spec;
  SwActFunc run;
} forms[SW_N_OFFER_FORMS] = {
  [SW_OFFER_FORM_PRICE] = { { N_ ("New price"),
                              N_ ("_Change"),
                              { MONEY (N_ ("_Price"), N_ ("what it asks from now on")) } },
                            run_price },
  [SW_OFFER_FORM_ENQUIRY]
  = { { N_ ("Enquiry"),
        N_ ("_Note"),
        { TEXT (N_ ("_Who"), N_ ("needed for a hold")), MONEY (N_ ("_Offers"), N_ ("nothing said")),
          TEXT (N_ ("_Remark"), N_ ("what they ask")) } },
      run_enquiry },
  [SW_OFFER_FORM_HOLD]
  = { { N_ ("Hold"), N_ ("_Hold"), { TEXT (N_ ("_Until the end of"), SW_DAY_HINT) } }, run_hold },
  [SW_OFFER_FORM_PAID_BACK] = { { N_ ("Give back what was paid too much"),
                                  N_ ("_Given back"),
                                  { MONEY (N_ ("_Amount"), N_ ("what was paid too much")),
                                    { SW_FIELD_CHECK, N_ ("Out of the _cash box"), NULL, NULL },
                                    TEXT (N_ ("On _day"), SW_DAY_HINT_TODAY) } },
                                run_paid_back },
  [SW_OFFER_FORM_PAYMENT] = { { N_ ("Payment"),
                                N_ ("_Paid"),
                                { MONEY (N_ ("_Amount"), N_ ("the deposit, or all")),
                                  TEXT (N_ ("_How"), N_ ("cash, bank…")),
                                  TEXT (N_ ("_To whom"), N_ ("who has the money now")),
                                  TEXT (N_ ("On _day"), SW_DAY_HINT_TODAY) } },
                              run_payment },
  [SW_OFFER_FORM_ROUND] = { { N_ ("Round"),
                              N_ ("_Change"),
                              { TEXT (N_ ("_Round"), N_ ("its title; empty: of no round")) } },
                            run_round },
  [SW_OFFER_FORM_NEXT] = { { N_ ("To the next"),
                             N_ ("_Sell"),
                             { TEXT (N_ ("_Buyer"), N_ ("may stay empty")),
                               MONEY (N_ ("_Amount"), N_ ("what is paid for it now")) } },
                           run_next },
};

static void
send_wish (SwStore *store, char **values, gpointer data, GObject *owner, SwTryDone done)
{
  const Wish *form = data;
  Wish *wish = g_new0 (Wish, 1);

  wish->kind = form->kind;
  wish->id = form->id;
  wish->values = g_strdupv (values);
  wish->now = sw_clock_now ();
  sw_store_try (store, forms[form->kind].run, wish, wish_free, owner, done);
}

void
sw_offer_form_show (GtkWindow *parent, SwStore *store, SwOfferFormKind kind, gint64 id,
                    const char *about, const char *const *begun)
{
  Wish *wish = g_new0 (Wish, 1);
  SwAsk ask = {
    .spec = &forms[kind].spec, .begun = begun, .send = send_wish, .data = wish, .destroy = wish_free
  };

  wish->kind = kind;
  wish->id = id;
  if (about != NULL)
    {
      ask.above = gtk_label_new (about);
      gtk_label_set_xalign (GTK_LABEL (ask.above), 0);
      gtk_label_set_line_wrap (GTK_LABEL (ask.above), TRUE);
      gtk_label_set_max_width_chars (GTK_LABEL (ask.above), 44);
    }
  sw_ask_form_show (parent, store, &ask);
}

/* ---- single acts ---- */

static gboolean
run_no_show (SwCatalogue *catalogue, gpointer data, GError **error)
{
  return sw_enquiry_no_show (catalogue, *(const gint64 *)data, error);
}

void
sw_act_no_show (SwStore *store, gint64 enquiry)
{
  sw_store_act (store, run_no_show, g_memdup2 (&enquiry, sizeof enquiry), g_free, NULL, NULL);
}

static gboolean
run_remove (SwCatalogue *catalogue, gpointer data, GError **error)
{
  return sw_buyer_remove (catalogue, data, error);
}

typedef struct
{
  SwStore *store;
  GtkWindow *parent; /* weak */
  char *name;
} Removal;

static void
removal_free (gpointer data, GClosure *closure)
{
  Removal *removal = data;

  g_clear_weak_pointer (&removal->parent);
  g_object_unref (removal->store);
  g_free (removal->name);
  g_free (removal);
}

static void
on_removal (GtkDialog *dialog, int response, Removal *removal)
{
  if (response == GTK_RESPONSE_ACCEPT)
    sw_store_act (removal->store, run_remove, g_strdup (removal->name), g_free, NULL, NULL);
  gtk_widget_destroy (GTK_WIDGET (dialog));
}

/* Where the name stands besides the catalogue itself: what a person who means it has to see to. */
typedef struct
{
  GPtrArray *paths;
  char *unseen;
} Copies;

static void
copies_free (gpointer data)
{
  Copies *copies = data;

  g_clear_pointer (&copies->paths, g_ptr_array_unref);
  g_free (copies->unseen);
  g_free (copies);
}

static gpointer
read_copies (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  Copies *copies = g_new0 (Copies, 1);

  copies->paths = sw_buyer_copies (catalogue, data, &copies->unseen);
  return copies;
}

static char *
copies_in_words (SwStore *store, const Copies *copies)
{
  g_autofree char *within = g_strconcat (sw_store_folder (store), G_DIR_SEPARATOR_S, NULL);
  g_autoptr (GString) words = g_string_new (NULL);

  if (copies->paths->len > 0)
    g_string_append (words, _ ("These copies hold the name now:"));
  else if (copies->unseen == NULL)
    g_string_append (words, _ ("No safety copy holds the name."));
  for (guint i = 0; i < copies->paths->len; i++)
    {
      const char *path = copies->paths->pdata[i];

      g_string_append_printf (words, "\n%s",
                              g_str_has_prefix (path, within) ? path + strlen (within) : path);
    }
  if (copies->unseen != NULL)
    {
      if (words->len > 0)
        g_string_append_c (words, '\n');
      g_string_append_printf (words, _ ("The backup in %s is not there now and may hold it."),
                              copies->unseen);
    }
  return g_string_free (g_steal_pointer (&words), FALSE);
}

static void
ask_for_removal (Removal *removal, const Copies *copies)
{
  g_autofree char *where = copies_in_words (removal->store, copies);
  GtkWidget *list = gtk_label_new (where);
  GtkWidget *dialog = gtk_message_dialog_new (
      removal->parent, GTK_DIALOG_MODAL | GTK_DIALOG_DESTROY_WITH_PARENT, GTK_MESSAGE_QUESTION,
      GTK_BUTTONS_NONE, _ ("Remove what is known of %s for good?"), removal->name);

  gtk_message_dialog_format_secondary_text (
      GTK_MESSAGE_DIALOG (dialog),
      _ ("The name goes from every sale, hold and enquiry, and from the history. The money stays. "
         "This cannot be undone, nor can the steps that hold the name. Safety copies made before "
         "keep it until newer ones take their place."));
  gtk_label_set_line_wrap (GTK_LABEL (list), TRUE);
  gtk_label_set_line_wrap_mode (GTK_LABEL (list), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_max_width_chars (GTK_LABEL (list), 60);
  gtk_label_set_xalign (GTK_LABEL (list), 0);
  gtk_label_set_selectable (GTK_LABEL (list), TRUE);
  gtk_widget_show (list);
  gtk_container_add (
      GTK_CONTAINER (gtk_message_dialog_get_message_area (GTK_MESSAGE_DIALOG (dialog))), list);
  gtk_dialog_add_button (GTK_DIALOG (dialog), _ ("_Cancel"), GTK_RESPONSE_CANCEL);
  gtk_style_context_add_class (gtk_widget_get_style_context (gtk_dialog_add_button (
                                   GTK_DIALOG (dialog), _ ("_Remove"), GTK_RESPONSE_ACCEPT)),
                               "destructive-action");
  gtk_dialog_set_default_response (GTK_DIALOG (dialog), GTK_RESPONSE_CANCEL);
  g_signal_connect_data (dialog, "response", G_CALLBACK (on_removal), removal, removal_free, 0);
  gtk_widget_show (dialog);
}

static void
on_copies (GObject *object, GAsyncResult *result, gpointer data)
{
  Removal *removal = data;
  Copies *copies = sw_store_finish (removal->store, result, NULL);

  if (copies != NULL && removal->parent != NULL)
    ask_for_removal (removal, copies);
  else
    removal_free (removal, NULL);
  g_clear_pointer (&copies, copies_free);
}

void
sw_remove_buyer_ask (GtkWindow *parent, SwStore *store, const char *name)
{
  Removal *removal = g_new0 (Removal, 1);

  removal->store = g_object_ref (store);
  removal->name = g_strdup (name);
  g_set_weak_pointer (&removal->parent, parent);
  sw_store_read (store, SW_RANK_KEY, read_copies, g_strdup (name), g_free, copies_free, NULL,
                 on_copies, removal);
}
