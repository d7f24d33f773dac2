/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tags: numbers given out, and items that bear them. Must not print, nor look at photos. */
#include "core/catalogue/tags.h"

#include "core/base/error.h"
#include "core/base/language.h"
#include "core/catalogue/act.h"
#include "core/catalogue/catalogue-private.h"
#include "core/catalogue/items.h"

/* Settings are outside the changesets: an undo cannot give a number out twice. */
#define SETTING_NEXT "next-tag"

static gboolean
next_number (SwCatalogue *catalogue, gint64 *out_next, GError **error)
{
  g_autoptr (GError) inner = NULL;
  g_autofree char *text = sw_setting_get (catalogue, SETTING_NEXT, &inner);

  if (inner != NULL)
    {
      g_propagate_error (error, g_steal_pointer (&inner));
      return FALSE;
    }
  *out_next = 1;
  if (text == NULL || g_ascii_string_to_signed (text, 10, 1, G_MAXINT32, out_next, NULL))
    return TRUE;
  g_set_error (
      error, SW_ERROR, SW_ERROR_DAMAGED,
      _ ("The catalogue does not know which tags were printed (it says '%s'); restore it from "
         "its second home."),
      text);
  return FALSE;
}

gboolean
sw_tags_take (SwCatalogue *catalogue, int n, gint64 *out_first, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  gint64 first = 0;

  if (n < 1 || n > SW_TAGS_AT_ONCE)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_BAD_INPUT,
                   _ ("Between 1 and %d tags can be printed at a time, not %d."), SW_TAGS_AT_ONCE,
                   n);
      return FALSE;
    }
  if (!sw_act_begin (&act, catalogue, error) || !next_number (catalogue, &first, error))
    return FALSE;
  g_autofree char *next = g_strdup_printf ("%" G_GINT64_FORMAT, first + n);
  g_autofree char *sentence
      = n == 1
            ? g_strdup_printf (_ ("Tag %" PRId64 " printed"), first)
            : g_strdup_printf (_ ("Tags %" PRId64 " to %" PRId64 " printed"), first, first + n - 1);
  if (!sw_setting_put (catalogue, SETTING_NEXT, next, error)
      || !sw_act_tell (&act, SW_SUBJECT_CATALOGUE, 0, "tags.printed", NULL, sentence, error)
      || !sw_act_commit (&act, sentence, error))
    return FALSE;
  *out_first = first;
  return TRUE;
}

gboolean
sw_tag_item (SwCatalogue *catalogue, gint64 tag, gint64 *out_item, GError **error)
{
  gint64 item = 0;
  gboolean found = FALSE;

  if (!sw_db_get_int (catalogue, &item, &found, error, SW_STMT_TAG_ITEM, "i", tag))
    return FALSE;
  *out_item = found ? item : 0;
  return TRUE;
}

gboolean
sw_tag_set (SwCatalogue *catalogue, gint64 tag, gint64 number, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  gint64 bearer = 0;

  if (!sw_act_begin (&act, catalogue, error))
    return FALSE;
  g_autoptr (SwItem) item = sw_item_get (catalogue, number, error);
  if (item == NULL || !sw_tag_item (catalogue, tag, &bearer, error))
    return FALSE;
  if (bearer == number)
    return TRUE;
  if (bearer != 0)
    {
      g_set_error (error, SW_ERROR, SW_ERROR_REFUSED,
                   _ ("Tag %" PRId64 " is on item %" PRId64 " already; take it off there first."),
                   tag, bearer);
      return FALSE;
    }
  g_autofree char *sentence = g_strdup_printf (_ ("%s: tag %" PRId64), item->name, tag);
  return sw_db_run (catalogue, error, SW_STMT_TAG_PUT, "ii", tag, number)
         && sw_db_run (catalogue, error, SW_STMT_ITEM_TOUCH, "i", number)
         && sw_act_tell (&act, SW_SUBJECT_ITEM, number, "item.tagged", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

gboolean
sw_tag_drop (SwCatalogue *catalogue, gint64 tag, GError **error)
{
  g_auto (SwAct) act = SW_ACT_INIT;
  gint64 bearer = 0;

  if (!sw_act_begin (&act, catalogue, error) || !sw_tag_item (catalogue, tag, &bearer, error))
    return FALSE;
  if (bearer == 0)
    return TRUE;
  g_autofree char *sentence = g_strdup_printf (_ ("Tag %" PRId64 " taken off"), tag);
  return sw_db_run (catalogue, error, SW_STMT_TAG_DROP, "i", tag)
         && sw_db_run (catalogue, error, SW_STMT_ITEM_TOUCH, "i", bearer)
         && sw_act_tell (&act, SW_SUBJECT_ITEM, bearer, "item.tag-off", NULL, sentence, error)
         && sw_act_commit (&act, sentence, error);
}

GArray *
sw_tag_list (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (GArray) tags = g_array_new (FALSE, FALSE, sizeof (SwTag));
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_TAG_LIST, "");
  gboolean ok = TRUE;

  while (sw_db_next (catalogue, &use, &ok, error))
    {
      SwTag tag = { sw_col_int (&use, 0), sw_col_int (&use, 1) };
      g_array_append_val (tags, tag);
    }
  return ok ? g_steal_pointer (&tags) : NULL;
}
