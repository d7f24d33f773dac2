/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of rounds, of notes beside an offer, and of caught results. */
#include "core/catalogue/offer-notes.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"

void
sw_offer_note_free (SwOfferNote *note)
{
  if (note == NULL)
    return;
  g_free (note->round_title);
  g_free (note->own_ref);
  g_free (note->title);
  g_free (note->text);
  g_free (note->extra);
  g_free (note);
}

void
sw_caught_clear (SwCaught *caught)
{
  g_clear_pointer (&caught->verdict, g_free);
}

/* Texts may span lines; a reference and a title may not. */
static gboolean
check_change (const SwOfferNoteChange *change, GError **error)
{
  return (change->own_ref == NULL
          || sw_text_check (change->own_ref, _ ("The outlet's reference"), FALSE, TRUE, error))
         && (change->title == NULL
             || sw_text_check (change->title, _ ("The title"), FALSE, TRUE, error))
         && (change->text == NULL
             || sw_text_check (change->text, _ ("The text"), TRUE, TRUE, error))
         && (change->extra == NULL
             || sw_text_check (change->extra, _ ("What is to be had with it"), FALSE, TRUE, error));
}

static gboolean
run_change (SwCatalogue *catalogue, gint64 deal, const SwOfferNoteChange *change, GError **error)
{
  g_autofree char *own_ref = change->own_ref != NULL ? sw_text_tidy (change->own_ref) : NULL;
  g_autofree char *title = change->title != NULL ? sw_text_tidy (change->title) : NULL;
  g_autofree char *extra = change->extra != NULL ? sw_text_tidy (change->extra) : NULL;
  return sw_db_run (
      catalogue, error, SW_STMT_OFFER_NOTE_SET, "iiIiItttt", deal, (gint64)(change->hoped != NULL),
      change->hoped != NULL, change->hoped != NULL ? change->hoped->minor : 0,
      (gint64)(change->round != NULL), change->round != NULL,
      change->round != NULL ? *change->round : 0, own_ref, title, change->text, extra);
}

gboolean
sw_offer_note_change (SwCatalogue *catalogue, gint64 deal, const SwOfferNoteChange *change,
                      GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!check_change (change, error) || !sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwDeal) known = sw_deal_get (catalogue, deal, error);
  if (known == NULL || !run_change (catalogue, deal, change, error))
    return FALSE;
  g_autofree char *ref = sw_text_quote (known->ref);
  g_autofree char *sentence = g_strdup_printf (_ ("Offer %s described"), ref);
  return sw_act_tell (&act, SW_SUBJECT_OFFER, deal, "offer.described", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

SwOfferNote *
sw_offer_note_get (SwCatalogue *catalogue, gint64 deal, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_OFFER_NOTE_GET, "i", deal);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return NULL;
  if (!row)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("There is no offer %" PRId64 "."), deal);
      return NULL;
    }
  SwOfferNote *note = g_new0 (SwOfferNote, 1);
  note->has_hoped = !sw_col_is_null (&use, 0);
  note->hoped = sw_money (sw_col_int (&use, 0));
  note->round = sw_col_int (&use, 1);
  note->round_title = sw_col_text (&use, 2);
  note->own_ref = sw_col_text (&use, 3);
  note->title = sw_col_text (&use, 4);
  note->text = sw_col_text (&use, 5);
  note->extra = sw_col_text (&use, 6);
  return note;
}

gboolean
sw_offer_before (SwCatalogue *catalogue, gint64 deal, gint64 *out_deal, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_OFFER_BEFORE, "i", deal);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return FALSE;
  *out_deal = row ? sw_col_int (&use, 0) : 0;
  return TRUE;
}

GArray *
sw_offer_by_own_ref (SwCatalogue *catalogue, gint64 outlet, const char *own_ref, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_OFFER_BY_OWN_REF, "it", outlet, own_ref);
  return sw_db_collect_ids (catalogue, &use, error);
}

gboolean
sw_round_ensure (SwCatalogue *catalogue, const char *title, gint64 *out_id, GError **error)
{
  if (!sw_text_check (title, _ ("The title of the round"), FALSE, FALSE, error)
      || !sw_text_check_not_none (title, _ ("The title of a round"), error))
    return FALSE;
  g_autofree char *tidy = sw_text_tidy (title);
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error)
      || !sw_db_run (catalogue, error, SW_STMT_ROUND_ENSURE, "ti", tidy,
                     sw_catalogue_now (catalogue).us)
      || !sw_db_get_int (catalogue, out_id, NULL, error, SW_STMT_ROUND_ID, "t", tidy))
    return FALSE;
  g_autofree char *sentence = g_strdup_printf (_ ("Round %s"), tidy);
  return sw_act_commit (&act, sentence, error);
}

static char *
round_sentence (const SwDeal *deal, const char *title)
{
  g_autofree char *ref = sw_text_quote (deal->ref);

  return *title != '\0' ? g_strdup_printf (_ ("Offer %s put into the round %s"), ref, title)
                        : g_strdup_printf (_ ("Offer %s taken out of its round"), ref);
}

gboolean
sw_offer_into_round (SwCatalogue *catalogue, gint64 deal, const char *title, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  gint64 round = 0;
  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwDeal) known = sw_deal_get (catalogue, deal, error);
  g_autoptr (SwOfferNote) note = known != NULL ? sw_offer_note_get (catalogue, deal, error) : NULL;
  g_autofree char *tidy = sw_text_tidy (title);
  if (note == NULL || (*tidy != '\0' && !sw_round_ensure (catalogue, tidy, &round, error)))
    return FALSE;
  if (note->round == round)
    return TRUE;
  const SwOfferNoteChange change = { .round = &round };
  g_autofree char *sentence = round_sentence (known, tidy);
  return run_change (catalogue, deal, &change, error)
         && sw_act_tell (&act, SW_SUBJECT_OFFER, deal, "offer.round", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

char *
sw_round_title (SwCatalogue *catalogue, gint64 id, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ROUND_TITLE, "i", id);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return NULL;
  if (row)
    return sw_col_text (&use, 0);
  g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND, _ ("There is no round %" PRId64 "."), id);
  return NULL;
}

void
sw_offer_round_free (SwOfferRound *round)
{
  if (round == NULL)
    return;
  g_free (round->title);
  g_free (round);
}

static gpointer
round_from_row (const SwUse *use)
{
  SwOfferRound *round = g_new0 (SwOfferRound, 1);
  round->id = sw_col_int (use, 0);
  round->title = sw_col_text (use, 1);
  round->offered = (guint)sw_col_int (use, 2);
  round->sold = (guint)sw_col_int (use, 3);
  round->no_sale = (guint)sw_col_int (use, 4);
  round->withdrawn = (guint)sw_col_int (use, 5);
  round->has_up = !sw_col_is_null (use, 6);
  round->up = (SwDay){ (gint32)sw_col_int (use, 6) };
  return round;
}

GPtrArray *
sw_offer_round_list (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_ROUND_LIST, "");
  return sw_db_collect (catalogue, &use, round_from_row, (GDestroyNotify)sw_offer_round_free,
                        error);
}

/* --- caught results --- */

static gboolean
tell_and_commit (SwAct *act, gint64 deal, const char *sentence, GError **error)
{
  return sw_act_tell (act, SW_SUBJECT_OFFER, deal, "offer.caught", NULL, sentence, error)
         && sw_act_commit (act, sentence, error);
}

gboolean
sw_caught_put (SwCatalogue *catalogue, gint64 deal, const SwCaught *caught, const char *sentence,
               GError **error)
{
  g_return_val_if_fail (caught->result == SW_RESULT_SOLD || caught->result == SW_RESULT_NO_SALE,
                        FALSE);
  g_auto (SwAct) act = SW_ACT_INIT;
  return sw_act_begin (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_CAUGHT_PUT, "ititi", deal,
                       sw_result_word (caught->result), caught->amount.minor, caught->verdict,
                       sw_catalogue_now (catalogue).us)
         && tell_and_commit (&act, deal, sentence, error);
}

gboolean
sw_caught_remove (SwCatalogue *catalogue, gint64 deal, const char *sentence, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error)
      || !sw_db_run (catalogue, error, SW_STMT_CAUGHT_REMOVE, "i", deal))
    return FALSE;
  return sw_db_changes (catalogue) == 0 || tell_and_commit (&act, deal, sentence, error);
}

gboolean
sw_caught_get (SwCatalogue *catalogue, gint64 deal, gboolean *out_found, SwCaught *out_caught,
               GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_CAUGHT_GET, "i", deal);
  if (!sw_db_step (catalogue, &use, out_found, error))
    return FALSE;
  if (!*out_found)
    return TRUE;
  g_autofree char *word = sw_col_text (&use, 0);
  *out_caught = (SwCaught){
    .result
    = strcmp (word, sw_result_word (SW_RESULT_SOLD)) == 0 ? SW_RESULT_SOLD : SW_RESULT_NO_SALE,
    .amount = sw_money (sw_col_int (&use, 1)),
    .verdict = sw_col_text (&use, 2),
    .at = { sw_col_int (&use, 3) },
  };
  return TRUE;
}

GArray *
sw_caught_list (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_CAUGHT_LIST, "");
  return sw_db_collect_ids (catalogue, &use, error);
}
