/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows of outlets and of their charges. What a charge comes to is no business of this file. */
#include "core/catalogue/outlets.h"
#include "core/base/language.h"

#include "core/base/text.h"
#include "core/catalogue/act.h"
#include "core/catalogue/db.h"

#define AS_KIND_WORD(tag, word) [SW_OUTLET_##tag] = word,
static const char *const kind_words[SW_N_OUTLET_KINDS] = { SW_OUTLET_KINDS (AS_KIND_WORD) };

#define AS_BASIS_WORD(tag, word) [SW_CHARGE_##tag] = word,
static const char *const basis_words[SW_N_CHARGE_BASES] = { SW_CHARGE_BASES (AS_BASIS_WORD) };

static const char *const rounding_words[] = {
  [SW_ROUND_HALF_UP] = "half-up",
  [SW_ROUND_HALF_EVEN] = "half-even",
};

void
sw_outlet_free (SwOutlet *outlet)
{
  if (outlet == NULL)
    return;
  g_free (outlet->name);
  g_free (outlet);
}

void
sw_charge_free (SwCharge *charge)
{
  if (charge == NULL)
    return;
  g_free (charge->name);
  g_free (charge->tiers);
  g_free (charge->tax);
  g_free (charge);
}

/* --- words --- */

static int
find_word (const char *const *words, int n, const char *word)
{
  g_autofree char *folded = g_strdelimit (g_strdup (word), "-_", ' ');
  for (int i = 0; i < n; i++)
    if (sw_text_same_name (words[i], folded))
      return i;
  return -1;
}

const char *
sw_outlet_kind_word (SwOutletKind kind)
{
  g_return_val_if_fail (kind >= 0 && kind < SW_N_OUTLET_KINDS, "");
  return kind_words[kind];
}

gboolean
sw_outlet_kind_parse (const char *word, SwOutletKind *out_kind)
{
  int found = find_word (kind_words, SW_N_OUTLET_KINDS, word);
  if (found >= 0)
    *out_kind = (SwOutletKind)found;
  return found >= 0;
}

const char *
sw_charge_basis_word (SwChargeBasis basis)
{
  g_return_val_if_fail (basis >= 0 && basis < SW_N_CHARGE_BASES, "");
  return basis_words[basis];
}

gboolean
sw_charge_basis_parse (const char *word, SwChargeBasis *out_basis)
{
  g_auto (GStrv) parts = g_strsplit (word, " ", -1);
  g_autofree char *tight = g_strjoinv ("", parts); /* "price + delivery" */
  int found = find_word (basis_words, SW_N_CHARGE_BASES, tight);
  if (found >= 0)
    *out_basis = (SwChargeBasis)found;
  return found >= 0;
}

/* --- outlets --- */

gboolean
sw_outlet_put (SwCatalogue *catalogue, const SwOutlet *outlet, gint64 *out_id, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  gint64 id = 0;
  g_autofree char *sentence = g_strdup_printf (_ ("Outlet %s entered"), outlet->name);
  if (!sw_text_check_not_none (outlet->name, _ ("The name of an outlet"), error)
      || !sw_act_begin (&act, catalogue, error)
      || !sw_db_run (catalogue, error, SW_STMT_OUTLET_PUT, "ttIIIt", outlet->name,
                     outlet->has_kind ? kind_words[outlet->kind] : NULL, outlet->running_days >= 0,
                     outlet->running_days, outlet->pay_days >= 0, outlet->pay_days,
                     outlet->collect_days >= 0, outlet->collect_days,
                     rounding_words[outlet->rounding])
      || !sw_db_get_int (catalogue, &id, NULL, error, SW_STMT_OUTLET_FIND, "t", outlet->name)
      || !sw_act_tell (&act, SW_SUBJECT_OUTLET, id, "outlet.entered", NULL, sentence, error)
      || !sw_act_commit (&act, sentence, error))
    return FALSE;
  if (out_id != NULL)
    *out_id = id;
  return TRUE;
}

static gint64
days_or_none (const SwUse *use, int column)
{
  return sw_col_is_null (use, column) ? -1 : sw_col_int (use, column);
}

static SwOutlet *
outlet_from_row (const SwUse *use)
{
  g_autofree char *kind = sw_col_text (use, 2);
  g_autofree char *rounding = sw_col_text (use, 6);
  SwOutlet *outlet = g_new0 (SwOutlet, 1);
  outlet->id = sw_col_int (use, 0);
  outlet->name = sw_col_text (use, 1);
  outlet->has_kind = kind != NULL && sw_outlet_kind_parse (kind, &outlet->kind);
  outlet->running_days = days_or_none (use, 3);
  outlet->pay_days = days_or_none (use, 4);
  outlet->collect_days = days_or_none (use, 5);
  outlet->rounding = g_strcmp0 (rounding, rounding_words[SW_ROUND_HALF_EVEN]) == 0
                         ? SW_ROUND_HALF_EVEN
                         : SW_ROUND_HALF_UP;
  return outlet;
}

gboolean
sw_outlet_find (SwCatalogue *catalogue, const char *name, SwOutlet **out_outlet, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_OUTLET_FIND, "t", name);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return FALSE;
  *out_outlet = row ? outlet_from_row (&use) : NULL;
  return TRUE;
}

static int
by_name (gconstpointer a, gconstpointer b)
{
  const SwOutlet *one = *(SwOutlet *const *)a, *other = *(SwOutlet *const *)b;
  int order = g_utf8_collate (one->name, other->name);

  return order != 0 ? order : strcmp (one->name, other->name);
}

GPtrArray *
sw_outlet_list (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_OUTLET_LIST, "");
  GPtrArray *outlets = sw_db_collect (catalogue, &use, (SwRowFunc)outlet_from_row,
                                      (GDestroyNotify)sw_outlet_free, error);

  if (outlets != NULL)
    g_ptr_array_sort (outlets, by_name);
  return outlets;
}

/* --- charges --- */

gboolean
sw_charge_put (SwCatalogue *catalogue, const SwCharge *charge, GError **error)
{
  gboolean flat = !charge->ends && charge->tiers == NULL;
  g_auto (SwAct) act = SW_ACT_INIT;
  g_autofree char *sentence = g_strdup_printf (_ ("Charge %s entered"), charge->name);
  return sw_act_begin (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_CHARGE_PUT, "ititItIIti", charge->outlet,
                       charge->name, (gint64)charge->from.n,
                       charge->ends ? NULL : basis_words[charge->basis], flat, charge->flat.minor,
                       charge->ends ? NULL : charge->tiers, charge->has_least, charge->least.minor,
                       charge->has_most, charge->most.minor, charge->tax, charge->free_offers)
         && sw_act_tell (&act, SW_SUBJECT_OUTLET, charge->outlet, "charge.entered", &charge->from,
                         sentence, error)
         && sw_act_commit (&act, sentence, error);
}

static SwCharge *
charge_from_row (const SwUse *use)
{
  g_autofree char *basis = sw_col_text (use, 4);
  SwCharge *charge = g_new0 (SwCharge, 1);
  charge->id = sw_col_int (use, 0);
  charge->outlet = sw_col_int (use, 1);
  charge->name = sw_col_text (use, 2);
  charge->from = (SwDay){ (gint32)sw_col_int (use, 3) };
  charge->ends = basis == NULL || !sw_charge_basis_parse (basis, &charge->basis);
  charge->flat = sw_money (sw_col_int (use, 5));
  charge->tiers = sw_col_text (use, 6);
  charge->has_least = !sw_col_is_null (use, 7);
  charge->least = sw_money (sw_col_int (use, 7));
  charge->has_most = !sw_col_is_null (use, 8);
  charge->most = sw_money (sw_col_int (use, 8));
  charge->tax = sw_col_text (use, 9);
  charge->free_offers = sw_col_int (use, 10);
  return charge;
}

GPtrArray *
sw_charge_list (SwCatalogue *catalogue, gint64 outlet, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_CHARGE_LIST, "i", outlet);
  return sw_db_collect (catalogue, &use, (SwRowFunc)charge_from_row, (GDestroyNotify)sw_charge_free,
                        error);
}

/* --- columns of statements --- */

gboolean
sw_statement_column_put (SwCatalogue *catalogue, gint64 outlet, const char *field,
                         const char *heading, GError **error)
{
  if (!sw_text_check (heading, _ ("The heading of a column"), FALSE, FALSE, error))
    return FALSE;
  g_auto (SwAct) act = SW_ACT_INIT;
  return sw_act_begin (&act, catalogue, error)
         && sw_db_run (catalogue, error, SW_STMT_STATEMENT_COLUMN_PUT, "itt", outlet, field,
                       heading)
         && sw_act_commit (&act, _ ("Column of a statement"), error);
}

gboolean
sw_statement_column_get (SwCatalogue *catalogue, gint64 outlet, const char *field,
                         char **out_heading, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_STATEMENT_COLUMN_GET, "it", outlet, field);
  gboolean row = FALSE;
  if (!sw_db_step (catalogue, &use, &row, error))
    return FALSE;
  *out_heading = row ? sw_col_text (&use, 0) : NULL;
  return TRUE;
}
