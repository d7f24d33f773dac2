/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pile: what things would bring as scrap, class by class, brought to the gate or fetched by a
 * yard, and whether there is enough of it to be fetched. Trade layer; read only. */
#pragma once

#include "core/base/mass.h"
#include "core/base/money.h"
#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

typedef struct
{
  char *scrap_class;       /* NULL: things whose class is not said */
  guint things, unweighed; /* items; those of them without a mass, or with none at all, which
                            * is then missing below */
  SwMass mass;
  gboolean has_gate; /* some yard has a rate at the gate */
  SwMoney at_gate;   /* the sum of the items' floors: with cartage by the planned load; may be below
                      * zero */
  gboolean has_fetched; /* some yard would fetch the class; one that has enough goes first, then the
                         * better rate */
  char *yard;
  SwMoney rate;    /* for 1000 kg */
  SwMoney fetched; /* mass x rate, half-up: no cartage */
  SwMass least;
  SwMass lacking; /* until the yard comes; 0: there is enough to have it collected */
} SwScrapClass;

typedef struct
{
  GPtrArray *classes;     /* SwScrapClass by name; without a class last */
  guint things, unvalued; /* unvalued: no class, mass or rate, so in no sum of money */
  SwMass mass;
  SwMoney at_gate;
} SwScrapPile;
void sw_scrap_pile_clear (SwScrapPile *pile);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SwScrapPile, sw_scrap_pile_clear)

/* place 0: all that is marked For scrap, wherever it stands; else all that stands unsold in
 * that place and the places inside it, marked or not. Errors: BAD_INPUT on overflow, those of the
 * catalogue. */
gboolean sw_scrap_pile_read (SwCatalogue *catalogue, gint64 place, SwScrapPile *out_pile,
                             GError **error);

/* "Enough to have it collected by Yard.", "Yard fetches from 2000 kg on: 450 kg more are needed.",
 * or NULL where no yard fetches it. Transfer full. */
char *sw_scrap_class_fetch_sentence (const SwScrapClass *of_class);

G_END_DECLS
