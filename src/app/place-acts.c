/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Carries acts on places to the catalogue thread. */
#include "app/place-acts.h"

#include "core/base/length.h"
#include "core/base/position.h"
#include "core/catalogue/ground.h"

typedef struct
{
  gint64 place, parent, number;
  SwBox box, outer, before;
  gboolean has_outer, has_before;
  SwPlaceField field;
  char *text;
} Change;

static void
change_free (gpointer data)
{
  g_free (((Change *)data)->text);
  g_free (data);
}

static SwBox
geometry (const SwPlanBox *box)
{
  return (SwBox){ box->x, box->y, box->w, box->h };
}

static SwDrawn
drawn (const Change *self)
{
  return (SwDrawn){ self->box, self->has_outer ? &self->outer : NULL,
                    self->has_before ? &self->before : NULL };
}

static void
see_outer (Change *self, const SwPlanBox *outer)
{
  self->has_outer = outer != NULL;
  if (outer != NULL)
    self->outer = geometry (outer);
}

static Change *
change_new (gint64 place, gint64 parent, const SwPlanBox *box)
{
  Change *self = g_new0 (Change, 1);

  self->place = place;
  self->parent = parent;
  if (box != NULL)
    self->box = geometry (box);
  return self;
}

static gboolean
draw_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Change *self = data;
  SwDrawn as = drawn (self);
  return sw_ground_draw (catalogue, self->text, self->parent, &as, NULL, error);
}

void
sw_place_act_draw (SwStore *store, const char *name, gint64 parent, const SwPlanBox *box,
                   const SwPlanBox *outer, GObject *owner, SwTryDone done)
{
  Change *self = change_new (0, parent, box);

  see_outer (self, outer);
  self->text = g_strdup (name);
  sw_store_try (store, draw_run, self, change_free, owner, done);
}

static gboolean
put_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Change *self = data;
  SwDrawn as = drawn (self);
  return sw_ground_put (catalogue, self->place, self->parent, &as, error);
}

void
sw_place_act_put (SwStore *store, gint64 place, gint64 parent, const SwPlanBox *box,
                  const SwPlanBox *outer, const SwPlanBox *before, GObject *owner, SwActDone done)
{
  Change *self = change_new (place, parent, box);

  see_outer (self, outer);
  self->has_before = before != NULL;
  if (before != NULL)
    self->before = geometry (before);
  sw_store_act (store, put_run, self, change_free, owner, done);
}

static gboolean
remove_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  return sw_ground_remove (catalogue, ((const Change *)data)->place, error);
}

void
sw_place_act_remove (SwStore *store, gint64 place)
{
  sw_store_act (store, remove_run, change_new (place, 0, NULL), change_free, NULL, NULL);
}

static gboolean
walk_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Change *self = data;
  return sw_ground_shift_walk (catalogue, self->place, (int)self->number, error);
}

void
sw_place_act_walk (SwStore *store, gint64 place, int by)
{
  Change *self = change_new (place, 0, NULL);

  self->number = by;
  sw_store_act (store, walk_run, self, change_free, NULL, NULL);
}

static gboolean
set_run (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Change *self = data;
  double latitude, longitude;
  gint64 mm;

  switch (self->field)
    {
    case SW_PLACE_NAME:
      return sw_place_rename (catalogue, self->place, self->text, error);
    case SW_PLACE_INSIDE:
      return sw_place_move (catalogue, self->place, self->number, error);
    case SW_PLACE_LENGTH:
      return sw_length_parse (self->text, &mm, error)
             && sw_ground_set_length (catalogue, self->place, &self->box, mm, error);
    case SW_PLACE_POSITION:
      return sw_position_parse (self->text, &latitude, &longitude, error)
             && sw_place_set_position (catalogue, self->place, latitude, longitude, error);
    case SW_PLACE_FROM_PHOTOS:
      return sw_ground_position_from_photos (catalogue, self->place, error);
    case SW_PLACE_LOOKED:
      return sw_ground_set_walked (catalogue, self->place, self->number != 0, error);
    case SW_PLACE_OFF:
    default:
      return sw_ground_set_off_property (catalogue, self->place, self->number != 0, error);
    }
}

void
sw_place_act_set (SwStore *store, gint64 place, SwPlaceField field, const char *text, gint64 number,
                  const SwPlanBox *box, GObject *owner, SwTryDone done)
{
  Change *self = change_new (place, 0, box);

  self->field = field;
  self->text = g_strdup (text);
  self->number = number;
  sw_store_try (store, set_run, self, change_free, owner, done);
}
