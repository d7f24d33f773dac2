/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Claims of several people on one item. Writes what each says; what follows for the item is
 * items.c's. */
#include "core/catalogue/claims.h"
#include "core/base/language.h"

#include <string.h>

#include "core/base/text.h"
#include "core/catalogue/db.h"
#include "core/catalogue/said.h"

void
sw_claim_said_free (SwClaimSaid *said)
{
  if (said == NULL)
    return;
  g_free (said->item_name);
  g_free (said->place_path);
  g_free (said->person);
  g_free (said);
}

static SwClaimSaid *
said_from_row (const SwUse *use)
{
  g_autofree char *key = sw_col_text (use, 2);
  SwClaimSaid *said = g_new0 (SwClaimSaid, 1);
  said->item = sw_col_int (use, 0);
  said->person = sw_col_text (use, 1);
  sw_claim_from_key (key, &said->says);
  said->at = (SwInstant){ sw_col_int (use, 3) };
  said->item_name = sw_col_text (use, 4);
  said->place_path = sw_col_text (use, 5);
  return said;
}

GPtrArray *
sw_claim_list (SwCatalogue *catalogue, gint64 item, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_CLAIM_LIST, "i", item);
  return sw_db_collect (catalogue, &use, (SwRowFunc)said_from_row,
                        (GDestroyNotify)sw_claim_said_free, error);
}

GArray *
sw_claim_clashes (SwCatalogue *catalogue, GError **error)
{
  g_auto (SwUse) use = sw_db_use (catalogue, SW_STMT_CLAIM_CLASHES, "");
  return sw_db_collect_ids (catalogue, &use, error);
}

/* person NULL with NONE: everybody's is settled. */
static gboolean
write_said (SwCatalogue *catalogue, gint64 item, const char *person, SwClaim says, GError **error)
{
  g_return_val_if_fail (person != NULL || says == SW_CLAIM_NONE, FALSE);
  if (person == NULL)
    return sw_db_run (catalogue, error, SW_STMT_CLAIM_SETTLE, "ii", item,
                      sw_catalogue_now (catalogue).us);
  return sw_db_run (catalogue, error, SW_STMT_CLAIM_PUT, "itti", item, person, sw_claim_key (says),
                    sw_catalogue_now (catalogue).us);
}

gboolean
sw_claim_write (SwCatalogue *catalogue, gint64 item, const char *person, SwClaim says,
                SwClaim *out_claim, char **out_by, char **out_others, GError **error)
{
  g_autofree char *named = person != NULL ? sw_text_tidy (person) : NULL;
  if (!write_said (catalogue, item, named, says, error))
    return FALSE;
  g_autoptr (GPtrArray) all = sw_claim_list (catalogue, item, error);
  if (all == NULL)
    return FALSE;
  g_autoptr (GString) others = g_string_new (NULL);
  const SwClaimSaid *first = all->len > 0 ? g_ptr_array_index (all, 0) : NULL;
  for (guint i = 1; i < all->len; i++)
    {
      const SwClaimSaid *said = g_ptr_array_index (all, i);
      if (said->says == SW_CLAIM_MINE)
        g_string_append_printf (others, "%s%s", others->len > 0 ? _ (" and ") : "",
                                *said->person != '\0' ? said->person : _ ("somebody"));
    }
  *out_claim = first != NULL ? first->says : SW_CLAIM_NONE;
  *out_by = first != NULL && first->says != SW_CLAIM_NONE ? sw_said_tidy (first->person) : NULL;
  *out_others = others->len > 0 ? g_strdup (others->str) : NULL;
  return TRUE;
}

gboolean
sw_claim_set (SwCatalogue *catalogue, gint64 item, const char *person, SwClaim says, GError **error)
{
  /* "" rather than NULL: of somebody not named alone, not of everybody */
  SwItemChange change = { .claim = &says, .claim_by = person != NULL ? person : "" };
  return sw_item_change (catalogue, item, &change, error);
}
