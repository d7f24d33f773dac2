/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "app/hand-outs.h"

#include <string.h>

#include "app/answers-form.h"
#include "app/family-form.h"
#include "app/slide-show.h"
#include "app/standing-out.h"

/* Keys as the menu (ui/window.ui) names them. */
static const struct
{
  const char *key;
  void (*open) (GtkWindow *parent, SwStore *store);
} hand_outs[] = {
  { "family", sw_family_form_open }, { "answers", sw_answers_form_open },
  { "standing", sw_standing_ask },   { "inventory", sw_inventory_ask },
  { "tables", sw_tables_form_open }, { "archive", sw_archive_form_open },
  { "slides", sw_slide_show_ask },
};

void
sw_hand_out_open (GtkWindow *parent, SwStore *store, const char *key)
{
  for (gsize i = 0; i < G_N_ELEMENTS (hand_outs); i++)
    if (strcmp (hand_outs[i].key, key) == 0)
      hand_outs[i].open (parent, store);
}
