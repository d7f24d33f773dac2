/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is ticked off back home, line by line: each tick is one act that takes the steps it stands
 * for, so that one undo takes it back. Trip layer. */
#pragma once

#include "core/trip/tick-sheet.h"

G_BEGIN_DECLS

typedef struct
{
  gint64 trip;
  int number;           /* of the line */
  gint64 subject, item; /* what the person saw in that line; subject 0: whatever stands there */
  SwTick tick;
  const SwMoney *taken; /* HANDED_OVER: the cash that was taken; NULL: what is due */
  const char *text;     /* BROKEN: what is wrong; DONE of a question: the answer; else not read */
} SwTickSaid;

/* Ticks the line. HANDED_OVER books the cash as a payment and the sale as collected, with all its
 * things (what is then still owed is a stated debt); LOADED moves things that may be sold at home
 * to At home (or so many pieces as were planned) and puts the thing to the place off the
 * property where most things At home stand (none yet: one called Home, made where it is not there); SCRAPPED is kept until the docket is booked, which takes the step; DONE ends the
 * job, says that the place was walked or takes the answer; NOT_FOUND lets a sale of that thing
 * alone fall through first, then the thing is Missing; BROKEN adds what is wrong as a fact that was
 * seen, and leaves the line open. The steps bear today's day, but none after the trip's last. Where
 * no sheet was kept, that of today is kept first. *out_sentence (may be NULL; transfer full): the
 * act's. Errors: REFUSED (the trip has not begun; not for that line; ticked already; another line
 * by now; a lot), BAD_INPUT (no text; cash below zero), NOT_FOUND. */
gboolean sw_tick (SwCatalogue *catalogue, const SwTickSaid *said, char **out_sentence,
                  GError **error);

G_END_DECLS
