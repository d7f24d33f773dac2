/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Puts facts into sentences for buyers. */
#include "core/trade/offer-text.h"

#include <string.h>

#include "core/base/length.h"
#include "core/catalogue/dangers.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/items.h"
#include "core/catalogue/offer-notes.h"
#include "core/catalogue/outlets.h"

static void add_line (GString *text, const char *format, ...) G_GNUC_PRINTF (2, 3);

static void
add_line (GString *text, const char *format, ...)
{
  va_list args;
  if (text->len > 0 && text->str[text->len - 1] != '\n')
    g_string_append_c (text, '\n');
  va_start (args, format);
  g_string_append_vprintf (text, format, args);
  va_end (args);
}

static gboolean
is_from (const SwFact *fact, const char *source)
{
  return g_strcmp0 (fact->source, source) == 0;
}

static const SwFact *
fact_of (const GPtrArray *facts, const char *kind)
{
  for (guint i = 0; i < facts->len; i++)
    {
      const SwFact *fact = g_ptr_array_index (facts, i);
      if (strcmp (fact->kind, kind) == 0)
        return fact;
    }
  return NULL;
}

/* --- what it is like --- */

static void
add_condition (GString *text, const GPtrArray *facts)
{
  const SwFact *fact = fact_of (facts, SW_FACT_CONDITION);
  if (fact == NULL || is_from (fact, "guessed"))
    add_line (text, "Condition: not known.");
  else if (is_from (fact, "told"))
    add_line (text, "Condition: said to be %s; not checked.", fact->text);
  else
    add_line (text, "Condition: %s, as %s.", fact->text, fact->source);
}

/* A fault that was only guessed is named as such: a buyer should know what may be wrong. */
static void
add_faults (GString *text, const GPtrArray *facts)
{
  gboolean any = FALSE;
  for (guint i = 0; i < facts->len; i++)
    {
      const SwFact *fact = g_ptr_array_index (facts, i);
      if (strcmp (fact->kind, SW_FACT_WRONG) != 0)
        continue;
      any = TRUE;
      if (is_from (fact, "guessed"))
        add_line (text, "May be wrong with it: %s; not checked.", fact->text);
      else
        add_line (text, "Wrong with it%s: %s.", is_from (fact, "told") ? ", it is said" : "",
                  fact->text);
    }
  add_line (text, any ? "Other faults: not known." : "Faults: none noted; not tested for any.");
}

static void
add_belongs (GString *text, const GPtrArray *facts)
{
  for (guint i = 0; i < facts->len; i++)
    {
      const SwFact *fact = g_ptr_array_index (facts, i);
      if (strcmp (fact->kind, SW_FACT_BELONGS) == 0 && !is_from (fact, "guessed"))
        add_line (text, "With it: %s%s.", fact->text,
                  is_from (fact, "told") ? " (said to belong to it)" : "");
    }
}

/* The person's own kinds ("maker", "length"); what is guessed is left out. */
static void
add_others (GString *text, const GPtrArray *facts)
{
  static const char *const known[]
      = { SW_FACT_CONDITION, SW_FACT_WRONG, SW_FACT_BELONGS, SW_FACT_DANGER, SW_FACT_STORY, NULL };
  for (guint i = 0; i < facts->len; i++)
    {
      const SwFact *fact = g_ptr_array_index (facts, i);
      if (g_strv_contains (known, fact->kind) || is_from (fact, "guessed"))
        continue;
      g_autofree char *kind = g_strdup (fact->kind);
      *kind = g_ascii_toupper (*kind);
      add_line (text, "%s: %s%s.", kind, fact->text, is_from (fact, "told") ? ", it is said" : "");
    }
}

/* --- how big and how heavy --- */

static void
add_size (GString *text, const SwItem *item)
{
  const gint64 sides[] = { item->length_mm, item->width_mm, item->height_mm };
  g_autoptr (GString) size = g_string_new (NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (sides); i++)
    {
      g_autofree char *side = sides[i] > 0 ? sw_length_to_text (sides[i]) : NULL;
      if (side != NULL)
        g_string_append_printf (size, "%s%s", size->len > 0 ? " x " : "", side);
    }
  if (size->len == 0 || item->size_guessed)
    add_line (text, "Size: not measured.");
  else
    add_line (text, "Size: %s%s.", size->str, item->count > 1 ? " each" : "");
}

static void
add_mass (GString *text, const SwItem *item)
{
  gboolean weighed = g_strcmp0 (item->mass_source, "weighed") == 0;
  gboolean worked_out = g_strcmp0 (item->mass_source, "worked out") == 0;
  g_autofree char *mass = item->has_mass ? sw_mass_to_text (item->mass) : NULL;
  if (mass != NULL && (weighed || g_strcmp0 (item->mass_source, "typed") == 0))
    add_line (text, "Mass: %s%s%s.", mass, item->count > 1 ? " in all" : "",
              weighed ? ", weighed" : "");
  else if (mass != NULL && worked_out)
    add_line (text, "Mass: about %s%s, worked out and not weighed.", mass,
              item->count > 1 ? " in all" : "");
  else
    add_line (text, "Mass: not known.");
  if (item->size == SW_SIZE_MACHINE)
    add_line (text, "Needs a machine to lift; the buyer brings machine and driver.");
  else if (item->size == SW_SIZE_TWO_PEOPLE)
    add_line (text, "Takes two people to lift.");
}

/* --- dangers --- */

/* Guessed ones stand here too: better a caution too many. */
static void
add_dangers (GString *text, const GPtrArray *facts)
{
  for (guint i = 0; i < facts->len; i++)
    {
      const SwFact *fact = g_ptr_array_index (facts, i);
      const SwDanger *danger
          = strcmp (fact->kind, SW_FACT_DANGER) == 0 ? sw_danger_find (fact->text) : NULL;
      if (danger != NULL)
        add_line (text, "Caution, %s%s: %s", danger->word,
                  is_from (fact, "guessed") ? " (may be, not checked)" : "", danger->caution);
    }
}

/* --- the whole --- */

static gboolean
add_item (SwCatalogue *catalogue, GString *text, const SwItem *item, GError **error)
{
  g_autoptr (GPtrArray) facts = sw_fact_list (catalogue, item->id, error);
  if (facts == NULL)
    return FALSE;
  if (item->count > 1)
    add_line (text, "%" G_GINT64_FORMAT " pieces.", item->count);
  add_condition (text, facts);
  add_faults (text, facts);
  add_others (text, facts);
  add_size (text, item);
  add_mass (text, item);
  add_belongs (text, facts);
  add_dangers (text, facts);
  return TRUE;
}

static void
add_days (GString *text, const char *what, gint64 days)
{
  if (days == 0)
    g_string_append_printf (text, " %s on the day of the sale.", what);
  else if (days > 0)
    g_string_append_printf (text, " %s within %" G_GINT64_FORMAT " day%s.", what, days,
                            days == 1 ? "" : "s");
}

static gboolean
add_terms (SwCatalogue *catalogue, GString *text, const SwDeal *deal, GError **error)
{
  g_autoptr (SwOutlet) outlet = NULL;
  if (deal->outlet_name != NULL && !sw_outlet_find (catalogue, deal->outlet_name, &outlet, error))
    return FALSE;
  add_line (text, "Sold as it stands. The buyer collects it by appointment.");
  if (outlet != NULL)
    {
      add_days (text, "To be paid", outlet->pay_days);
      add_days (text, "To be collected", outlet->collect_days);
    }
  return TRUE;
}

static gboolean
add_items (SwCatalogue *catalogue, GString *text, GString *title, const GArray *items,
           GError **error)
{
  for (guint i = 0; i < items->len; i++)
    {
      gint64 number = g_array_index (items, SwDealItem, i).item;
      g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
      if (item == NULL)
        return FALSE;
      g_string_append_printf (title, "%s%s", title->len == 0 ? "" : ", ", item->name);
      if (item->count > 1)
        g_string_append_printf (title, " (%" G_GINT64_FORMAT ")", item->count);
      if (items->len > 1)
        add_line (text, "%s%s", i > 0 ? "\n" : "", item->name);
      if (!add_item (catalogue, text, item, error))
        return FALSE;
    }
  return TRUE;
}

gboolean
sw_offer_text_compose (SwCatalogue *catalogue, gint64 id, char **out_title, char **out_text,
                       GError **error)
{
  g_autoptr (GString) text = g_string_new (NULL), title = g_string_new (NULL);
  g_autoptr (SwDeal) deal = sw_deal_get (catalogue, id, error);
  g_autoptr (GArray) items = deal != NULL ? sw_deal_items (catalogue, id, error) : NULL;
  g_autoptr (SwOfferNote) note = items != NULL ? sw_offer_note_get (catalogue, id, error) : NULL;
  if (note == NULL || !add_items (catalogue, text, title, items, error))
    return FALSE;
  if (*note->extra != '\0')
    add_line (text, "Also to be had with it: %s.", note->extra);
  if (!add_terms (catalogue, text, deal, error))
    return FALSE;
  *out_title = g_string_free (g_steal_pointer (&title), FALSE);
  *out_text = g_string_free (g_steal_pointer (&text), FALSE);
  return TRUE;
}
