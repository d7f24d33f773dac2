/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of shares and of the family's entries, and their checks. No sum. */
#include "core/catalogue/shares.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"
#include "core/catalogue/items.h"

/* Of a percent. */
#define DECIMALS 4
#define PART_OF_PERCENT 10000

#define AS_WORD(tag, word) [SW_FAMILY_##tag] = word,
static const char *const kind_words[SW_N_FAMILY_KINDS] = { SW_FAMILY_KINDS (AS_WORD) };

const char *
sw_family_kind_word (SwFamilyKind kind)
{
  g_return_val_if_fail (kind >= 0 && kind < SW_N_FAMILY_KINDS, "");
  return kind_words[kind];
}

void
sw_share_free (SwShare *share)
{
  if (share == NULL)
    return;
  g_free (share->person);
  g_free (share);
}

void
sw_family_entry_free (SwFamilyEntry *entry)
{
  if (entry == NULL)
    return;
  g_free (entry->person);
  g_free (entry->remark);
  g_free (entry);
}

/* --- percents --- */

static gboolean
read_part (const char *text, gint64 *out_part)
{
  gint64 part = 0;
  int decimals = -1;
  if (!g_ascii_isdigit (*text))
    return FALSE;
  for (const char *p = text; *p != '\0'; p++)
    {
      if (*p == '.' && decimals < 0)
        decimals = 0;
      else if (g_ascii_isdigit (*p) && decimals < DECIMALS && part < G_MAXINT32)
        {
          part = part * 10 + (*p - '0');
          decimals += decimals >= 0;
        }
      else
        return FALSE;
    }
  for (int i = MAX (decimals, 0); i < DECIMALS; i++)
    part *= 10;
  *out_part = part;
  return part <= SW_SHARE_WHOLE;
}

gboolean
sw_share_parse (const char *text, gint64 *out_part, GError **error)
{
  g_autofree char *tidy = sw_text_tidy (text);
  gsize length = strlen (tidy);
  if (length > 0 && tidy[length - 1] == '%')
    tidy[length - 1] = '\0';
  g_strchomp (tidy);
  if (read_part (tidy, out_part))
    return TRUE;
  g_autofree char *shown = sw_text_quote (text);
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
               _ ("%s is no share; type a percentage from 0 to 100 with at most four decimals."),
               shown);
  return FALSE;
}

char *
sw_share_to_text (gint64 part)
{
  g_autofree char *text = g_strdup_printf ("%" G_GINT64_FORMAT ".%04" G_GINT64_FORMAT,
                                           part / PART_OF_PERCENT, part % PART_OF_PERCENT);
  gsize length = strlen (text);
  while (text[length - 1] == '0')
    text[--length] = '\0';
  if (text[length - 1] == '.')
    text[length - 1] = '\0';
  return g_steal_pointer (&text);
}

gboolean
sw_share_set (SwCatalogue *catalogue, const char *person, gint64 part, GError **error)
{
  if (!sw_text_check (person, _ ("The name of the person"), FALSE, FALSE, error))
    return FALSE;
  if (part < 0 || part > SW_SHARE_WHOLE)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, _ ("A share is from 0 to 100 %%."));
      return FALSE;
    }
  g_autofree char *tidy = sw_text_tidy (person);
  g_autofree char *shown = sw_share_to_text (part);
  g_autofree char *sentence = g_strdup_printf (_ ("%s has a share of %s %%"), tidy, shown);
  g_auto (SwAct) act = SW_ACT_INIT;
  return sw_act_begin (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_SHARE_PUT, "ti", tidy, part)
         && sw_act_tell (&act, SW_SUBJECT_CATALOGUE, 0, "share.set", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

static gpointer
share_from_row (const SwUse *use)
{
  SwShare *share = g_new0 (SwShare, 1);
  share->id = sw_col_int (use, 0);
  share->person = sw_col_text (use, 1);
  share->part = sw_col_int (use, 2);
  return share;
}

GPtrArray *
sw_share_list (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_SHARE_LIST, "");
  return sw_db_collect (catalogue, &use, share_from_row, (GDestroyNotify)sw_share_free, error);
}

/* --- entries --- */

static gboolean
check_entry (const SwFamilyEntry *entry, GError **error)
{
  if (!sw_text_check (entry->person, _ ("The name of the person"), FALSE, FALSE, error)
      || (entry->remark != NULL
          && !sw_text_check (entry->remark, _ ("The remark"), FALSE, TRUE, error)))
    return FALSE;
  if (entry->amount.minor >= 0)
    return TRUE;
  g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT, _ ("An amount is not below zero."));
  return FALSE;
}

static char *
sentence_of (SwCatalogue *catalogue, const char *person, const SwFamilyEntry *entry)
{
  static const char *const said[SW_N_FAMILY_KINDS]
      = { N_ ("got %s in advance"), N_ ("paid costs of %s"), N_ ("took a thing at %s"),
          N_ ("was paid out %s"), N_ ("holds %s of the family's cash") };
  g_autofree char *money = sw_money_to_person (entry->amount, sw_catalogue_currency (catalogue));
  g_autofree char *what = NULL;
  g_auto (GStrv) parts = g_strsplit (_ (said[entry->kind]), "%s", 2);
  what = g_strconcat (parts[0], money, parts[1], NULL);
  return g_strdup_printf ("%s %s", person, what);
}

static gboolean
check_item (SwCatalogue *catalogue, gint64 item, GError **error)
{
  if (item == 0)
    return TRUE;
  g_autoptr (SwItem) known = sw_item_get (catalogue, item, error);
  return known != NULL;
}

gboolean
sw_family_entry_add (SwCatalogue *catalogue, const SwFamilyEntry *entry, gint64 *out_id,
                     GError **error)
{
  g_return_val_if_fail (entry->kind >= 0 && entry->kind < SW_N_FAMILY_KINDS, FALSE);
  if (!check_entry (entry, error))
    return FALSE;
  g_autofree char *person = sw_text_tidy (entry->person);
  g_autofree char *remark = entry->remark != NULL ? sw_text_tidy (entry->remark) : g_strdup ("");
  g_auto (SwAct) act = SW_ACT_INIT;
  if (!sw_act_begin (&act, catalogue, error) || !check_item (catalogue, entry->item, error)
      || !sw_db_run (catalogue, error, SW_STMT_FAMILY_ADD, "ttiiIt", person,
                     kind_words[entry->kind], (gint64)entry->day.n, entry->amount.minor,
                     entry->item != 0, entry->item, remark))
    return FALSE;
  gint64 id = sw_db_last_id (catalogue);
  g_autofree char *sentence = sentence_of (catalogue, person, entry);
  if (!sw_act_tell (&act, SW_SUBJECT_CATALOGUE, 0, "family.entry", &entry->day, sentence, error)
      || !sw_act_commit (&act, sentence, error))
    return FALSE;
  if (out_id != NULL)
    *out_id = id;
  return TRUE;
}

gboolean
sw_family_entry_withdraw (SwCatalogue *catalogue, gint64 id, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  gint64 one = 0;
  gboolean found = FALSE;
  if (!sw_act_begin (&act, catalogue, error)
      || !sw_db_get_int (catalogue, &one, &found, error, SW_STMT_FAMILY_HAS, "i", id))
    return FALSE;
  if (!found)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_NOT_FOUND,
                   _ ("There is no entry %" PRId64 " in the family's account."), id);
      return FALSE;
    }
  return sw_db_run (catalogue, error, SW_STMT_FAMILY_WITHDRAW, "ii", id,
                    sw_catalogue_now (catalogue).us)
         && sw_act_commit (&act, _ ("Entry of the family's account withdrawn"), error);
}

static gpointer
entry_from_row (const SwUse *use)
{
  SwFamilyEntry *entry = g_new0 (SwFamilyEntry, 1);
  g_autofree char *kind = sw_col_text (use, 2);
  entry->id = sw_col_int (use, 0);
  entry->person = sw_col_text (use, 1);
  for (int i = 0; i < SW_N_FAMILY_KINDS; i++)
    if (g_strcmp0 (kind_words[i], kind) == 0)
      entry->kind = (SwFamilyKind)i;
  entry->day = (SwDay){ (gint32)sw_col_int (use, 3) };
  entry->amount = sw_money (sw_col_int (use, 4));
  entry->item = sw_col_int (use, 5);
  entry->remark = sw_col_text (use, 6);
  return entry;
}

GPtrArray *
sw_family_entry_list (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_FAMILY_LIST, "");
  return sw_db_collect (catalogue, &use, entry_from_row, (GDestroyNotify)sw_family_entry_free,
                        error);
}
