/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Puts facts into sentences for buyers. */
#include "core/trade/offer-text.h"

#include <string.h>

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/base/length.h"
#include "core/catalogue/dangers.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/items.h"
#include "core/catalogue/offer-notes.h"
#include "core/catalogue/outlets.h"

/* What is left out first where an outlet takes less text; NEEDED never is. */
typedef enum
{
  NEEDED,
  MEASURED, /* size and mass */
  BESIDE,   /* what belongs to it and what else is said of it */
  UNKNOWN,  /* that a size or a mass is not known */
} Rank;

typedef struct
{
  Rank rank;
  char *text;
} Line;

static void
line_free (gpointer data)
{
  g_free (((Line *)data)->text);
  g_free (data);
}

typedef GPtrArray Lines; /* Line */

static void add_line (Lines *text, Rank rank, const char *format, ...) G_GNUC_PRINTF (3, 4);

static void
add_line (Lines *text, Rank rank, const char *format, ...)
{
  Line *line = g_new0 (Line, 1);
  va_list args;
  va_start (args, format);
  line->rank = rank;
  line->text = g_strdup_vprintf (format, args);
  va_end (args);
  g_ptr_array_add (text, line);
}

/* The lines of that rank or a lower one, *out_left how many the others are. */
static char *
join_lines (const Lines *text, Rank most, guint *out_left)
{
  GString *joined = g_string_new (NULL);
  *out_left = 0;
  for (guint i = 0; i < text->len; i++)
    {
      const Line *line = g_ptr_array_index (text, i);
      if (line->rank > most)
        (*out_left)++;
      else
        g_string_append_printf (joined, "%s%s", joined->len > 0 ? "\n" : "", line->text);
    }
  return g_string_free (joined, FALSE);
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
add_condition (Lines *text, const GPtrArray *facts)
{
  const SwFact *fact = fact_of (facts, SW_FACT_CONDITION);
  if (fact == NULL || is_from (fact, "guessed"))
    add_line (text, NEEDED, _ ("Condition: not known."));
  else if (is_from (fact, "told"))
    add_line (text, NEEDED, _ ("Condition: said to be %s; not checked."), fact->text);
  else
    add_line (text, NEEDED, _ ("Condition: %s, as %s."), fact->text, _ (fact->source));
}

/* A fault that was only guessed is named as such: a buyer should know what may be wrong. */
static void
add_faults (Lines *text, const GPtrArray *facts)
{
  gboolean any = FALSE;
  for (guint i = 0; i < facts->len; i++)
    {
      const SwFact *fact = g_ptr_array_index (facts, i);
      if (strcmp (fact->kind, SW_FACT_WRONG) != 0)
        continue;
      any = TRUE;
      if (is_from (fact, "guessed"))
        add_line (text, NEEDED, _ ("May be wrong with it: %s; not checked."), fact->text);
      else
        add_line (text, NEEDED,
                  is_from (fact, "told") ? _ ("Wrong with it, it is said: %s.")
                                         : _ ("Wrong with it: %s."),
                  fact->text);
    }
  add_line (text, NEEDED,
            any ? _ ("Other faults: not known.") : _ ("Faults: none noted; not tested for any."));
}

static void
add_belongs (Lines *text, const GPtrArray *facts)
{
  for (guint i = 0; i < facts->len; i++)
    {
      const SwFact *fact = g_ptr_array_index (facts, i);
      if (strcmp (fact->kind, SW_FACT_BELONGS) == 0 && !is_from (fact, "guessed"))
        add_line (text, BESIDE,
                  is_from (fact, "told") ? _ ("With it: %s (said to belong to it).")
                                         : _ ("With it: %s."),
                  fact->text);
    }
}

/* The person's own kinds ("maker", "length"); what is guessed is left out, and what was jotted down
 * for oneself. */
static void
add_others (Lines *text, const GPtrArray *facts)
{
  static const char *const known[]
      = { SW_FACT_CONDITION, SW_FACT_WRONG, SW_FACT_BELONGS, SW_FACT_DANGER, SW_FACT_STORY,
          SW_FACT_REMARK,    NULL };
  for (guint i = 0; i < facts->len; i++)
    {
      const SwFact *fact = g_ptr_array_index (facts, i);
      if (g_strv_contains (known, fact->kind) || is_from (fact, "guessed"))
        continue;
      g_autofree char *kind = g_strdup (fact->kind);
      *kind = g_ascii_toupper (*kind);
      add_line (text, BESIDE, is_from (fact, "told") ? _ ("%s: %s, it is said.") : _ ("%s: %s."),
                kind, fact->text);
    }
}

/* --- how big and how heavy --- */

static void
add_size (Lines *text, const SwItem *item)
{
  const gint64 sides[] = { item->length_mm, item->width_mm, item->height_mm };
  g_autoptr (GString) size = g_string_new (NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (sides); i++)
    {
      g_autofree char *side = sides[i] > 0 ? sw_length_to_text (sides[i]) : NULL;
      if (side != NULL)
        g_string_append_printf (size, "%s%s", size->len > 0 ? _ (" x ") : "", side);
    }
  if (size->len == 0 || item->size_guessed)
    add_line (text, UNKNOWN, _ ("Size: not measured."));
  else
    add_line (text, MEASURED, item->count > 1 ? _ ("Size: %s each.") : _ ("Size: %s."), size->str);
}

static void
add_mass (Lines *text, const SwItem *item)
{
  gboolean several = item->count > 1;
  g_autofree char *mass = item->has_mass ? sw_mass_to_text (item->mass) : NULL;
  if (mass != NULL && g_strcmp0 (item->mass_source, "weighed") == 0)
    add_line (text, MEASURED, several ? _ ("Mass: %s in all, weighed.") : _ ("Mass: %s, weighed."),
              mass);
  else if (mass != NULL && g_strcmp0 (item->mass_source, "typed") == 0)
    add_line (text, MEASURED, several ? _ ("Mass: %s in all.") : _ ("Mass: %s."), mass);
  else if (mass != NULL && g_strcmp0 (item->mass_source, "worked out") == 0)
    add_line (text, MEASURED,
              several ? _ ("Mass: about %s in all, worked out and not weighed.")
                      : _ ("Mass: about %s, worked out and not weighed."),
              mass);
  else
    add_line (text, UNKNOWN, _ ("Mass: not known."));
  if (item->size == SW_SIZE_MACHINE)
    add_line (text, NEEDED, _ ("Needs a machine to lift; the buyer brings machine and driver."));
  else if (item->size == SW_SIZE_TWO_PEOPLE)
    add_line (text, NEEDED, _ ("Takes two people to lift."));
}

/* --- dangers --- */

/* Guessed ones stand here too: better a caution too many. */
static void
add_dangers (Lines *text, const GPtrArray *facts)
{
  for (guint i = 0; i < facts->len; i++)
    {
      const SwFact *fact = g_ptr_array_index (facts, i);
      const SwDanger *danger = sw_danger_of_fact (fact);
      if (danger != NULL)
        add_line (text, NEEDED,
                  is_from (fact, "guessed") ? _ ("Caution, %s (may be, not checked): %s")
                                            : _ ("Caution, %s: %s"),
                  _ (danger->word), _ (danger->caution));
    }
}

/* --- the whole --- */

static gboolean
add_item (SwCatalogue *catalogue, Lines *text, const SwItem *item, GError **error)
{
  g_autoptr (GPtrArray) facts = sw_fact_list (catalogue, item->id, error);
  if (facts == NULL)
    return FALSE;
  if (item->count > 1)
    {
      g_autofree char *pieces = sw_text_count (item->count, "%d piece.", "%d pieces.");
      add_line (text, NEEDED, "%s", pieces);
    }
  add_condition (text, facts);
  add_faults (text, facts);
  add_others (text, facts);
  add_size (text, item);
  add_mass (text, item);
  add_belongs (text, facts);
  add_dangers (text, facts);
  return TRUE;
}

/* A day of 0 is that of the sale itself; below, nothing is agreed. */
static char *
pay_sentence (gint64 days)
{
  if (days == 0)
    return g_strdup (_ ("To be paid on the day of the sale."));
  return days < 0 ? NULL
                  : sw_text_count (days, "To be paid within %d day.", "To be paid within %d days.");
}

static char *
collect_sentence (gint64 days)
{
  if (days == 0)
    return g_strdup (_ ("To be collected on the day of the sale."));
  return days < 0 ? NULL
                  : sw_text_count (days, "To be collected within %d day.",
                                   "To be collected within %d days.");
}

static void
add_terms (Lines *text, const SwOutlet *outlet)
{
  g_autofree char *pay = outlet != NULL ? pay_sentence (outlet->pay_days) : NULL;
  g_autofree char *collect = outlet != NULL ? collect_sentence (outlet->collect_days) : NULL;

  add_line (text, NEEDED, "%s%s%s%s%s",
            _ ("Sold as it stands. The buyer collects it by appointment."), pay != NULL ? " " : "",
            pay != NULL ? pay : "", collect != NULL ? " " : "", collect != NULL ? collect : "");
}

static gboolean
add_items (SwCatalogue *catalogue, Lines *text, GString *title, const GArray *items, GError **error)
{
  for (guint i = 0; i < items->len; i++)
    {
      g_autoptr (SwItem) item = sw_item_get (catalogue, g_array_index (items, gint64, i), error);
      if (item == NULL)
        return FALSE;
      g_string_append_printf (title, "%s%s", title->len == 0 ? "" : ", ", item->name);
      if (item->count > 1)
        g_string_append_printf (title, " (%" G_GINT64_FORMAT ")", item->count);
      if (items->len > 1)
        add_line (text, NEEDED, "%s%s", i > 0 ? "\n" : "", item->name);
      if (!add_item (catalogue, text, item, error))
        return FALSE;
    }
  return TRUE;
}

/* --- within limits --- */

/* Cut between words where it is too long. */
static char *
cut_title (const char *title, gint64 most)
{
  if (most <= 0 || g_utf8_strlen (title, -1) <= most)
    return g_strdup (title);
  g_autofree char *cut = g_utf8_substring (title, 0, most);
  const char *next = title + strlen (cut);
  char *blank = strrchr (cut, ' ');
  if (g_unichar_isalnum (g_utf8_get_char (next)) && blank != NULL && blank > cut)
    *blank = '\0';
  g_strchomp (cut);
  while (g_str_has_suffix (cut, ","))
    cut[strlen (cut) - 1] = '\0';
  return g_steal_pointer (&cut);
}

static gboolean
fit_text (const Lines *lines, gint64 most, SwOfferText *out_text, GError **error)
{
  for (int rank = UNKNOWN; rank >= NEEDED; rank--)
    {
      g_autofree char *text = join_lines (lines, (Rank)rank, &out_text->left_out);
      glong length = g_utf8_strlen (text, -1);
      if (most <= 0 || length <= most)
        {
          out_text->text = g_steal_pointer (&text);
          return TRUE;
        }
      if (rank == NEEDED)
        g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                     _ ("The text comes to %ld characters without what can be left out, and the "
                        "outlet takes %" PRId64
                        ": say condition and faults in fewer words, or raise its limit."),
                     length, most);
    }
  return FALSE;
}

void
sw_offer_text_clear (SwOfferText *text)
{
  g_clear_pointer (&text->title, g_free);
  g_clear_pointer (&text->text, g_free);
}

gboolean
sw_offer_text_of_items (SwCatalogue *catalogue, const GArray *items, const char *outlet_name,
                        const char *extra, const SwTextLimits *limits, SwOfferText *out_text,
                        GError **error)
{
  g_autoptr (GPtrArray) lines = g_ptr_array_new_with_free_func (line_free);
  g_autoptr (GString) title = g_string_new (NULL);
  g_autoptr (SwOutlet) outlet = NULL;
  SwOfferText made = { 0 };
  if (!add_items (catalogue, lines, title, items, error)
      || (outlet_name != NULL && !sw_outlet_find (catalogue, outlet_name, &outlet, error)))
    return FALSE;
  if (*extra != '\0')
    add_line (lines, BESIDE, _ ("Also to be had with it: %s."), extra);
  add_terms (lines, outlet);
  if (!fit_text (lines, limits->text, &made, error))
    return FALSE;
  made.title = cut_title (title->str, limits->title);
  *out_text = made;
  return TRUE;
}

gboolean
sw_offer_text_compose (SwCatalogue *catalogue, gint64 id, char **out_title, char **out_text,
                       GError **error)
{
  const SwTextLimits none = { 0 };
  SwOfferText made = { 0 };
  g_autoptr (SwDeal) deal = sw_deal_get (catalogue, id, error);
  g_autoptr (GArray) items = deal != NULL ? sw_deal_item_numbers (catalogue, id, error) : NULL;
  g_autoptr (SwOfferNote) note = items != NULL ? sw_offer_note_get (catalogue, id, error) : NULL;
  if (note == NULL
      || !sw_offer_text_of_items (catalogue, items, deal->outlet_name, note->extra, &none, &made,
                                  error))
    return FALSE;
  *out_title = made.title;
  *out_text = made.text;
  return TRUE;
}
