/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The set-up's step and drafts among the settings. */
#include "core/catalogue/set-up.h"

#include "core/catalogue/catalogue-private.h"

static const char *const step_words[] = {
  [SW_SET_UP_PLACES] = "places",
  [SW_SET_UP_TRIP] = "trip",
  [SW_SET_UP_PHOTOS] = "photos",
  [SW_SET_UP_DONE] = "done",
};

#define KEY_STEP "set-up"

/* Settings in the order of the fields. */
static const char *const keys[]
    = { "set-up-places", "set-up-trip-title", "set-up-trip-first", "set-up-trip-last" };

void
sw_set_up_free (SwSetUp *set_up)
{
  if (set_up == NULL)
    return;
  g_free (set_up->places);
  g_free (set_up->title);
  g_free (set_up->first);
  g_free (set_up->last);
  g_free (set_up);
}

static gboolean
get_text (SwCatalogue *catalogue, const char *key, char **out_text, GError **error)
{
  GError *inner = NULL;
  char *text = sw_setting_get (catalogue, key, &inner);

  if (inner != NULL)
    {
      g_propagate_error (error, inner);
      return FALSE;
    }
  *out_text = text != NULL ? text : g_strdup ("");
  return TRUE;
}

static SwSetUpStep
step_of (const char *word)
{
  for (gsize i = 0; i < G_N_ELEMENTS (step_words); i++)
    if (g_strcmp0 (word, step_words[i]) == 0)
      return (SwSetUpStep)i;
  return SW_SET_UP_DONE;
}

SwSetUp *
sw_set_up_get (SwCatalogue *catalogue, GError **error)
{
  g_autoptr (SwSetUp) set_up = g_new0 (SwSetUp, 1);
  char **fields[] = { &set_up->places, &set_up->title, &set_up->first, &set_up->last };
  g_autofree char *word = NULL;

  if (!get_text (catalogue, KEY_STEP, &word, error))
    return NULL;
  set_up->step = step_of (word);
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    if (!get_text (catalogue, keys[i], fields[i], error))
      return NULL;
  return g_steal_pointer (&set_up);
}

gboolean
sw_set_up_put (SwCatalogue *catalogue, const SwSetUp *set_up, GError **error)
{
  const char *fields[] = { set_up->places, set_up->title, set_up->first, set_up->last };
  g_auto (SwAct) act = SW_ACT_INIT;

  if (!sw_act_begin_plain (&act, catalogue, error)
      || !sw_setting_put (catalogue, KEY_STEP, step_words[set_up->step], error))
    return FALSE;
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    if (!sw_setting_put (catalogue, keys[i], fields[i] != NULL ? fields[i] : "", error))
      return FALSE;
  return sw_act_commit (&act, NULL, error);
}
