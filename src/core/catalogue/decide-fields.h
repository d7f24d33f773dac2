/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The fields of the deciding round in their fixed order: what an item says in each, setting one,
 * and taking one over from the item decided before. Records of the catalogue layer. */
#pragma once

#include "core/base/language.h"
#include "core/catalogue/items.h"

G_BEGIN_DECLS

/* X (tag, word). */
#define SW_DECIDE_FIELDS(X)                                                                        \
  X (NAME, N_ ("name"))                                                                            \
  X (COUNT, N_ ("count"))                                                                          \
  X (CONDITION, N_ ("condition"))                                                                  \
  X (WRONG, N_ ("what is wrong"))                                                                  \
  X (LIFTED, N_ ("who lifts it"))                                                                  \
  X (RIDES, N_ ("where it rides"))                                                                 \
  X (DANGER, N_ ("dangers"))                                                                       \
  X (ASK, N_ ("whom to ask"))                                                                      \
  X (OUTLET, N_ ("outlet"))                                                                        \
  X (PRICE, N_ ("asking price"))                                                                   \
  X (JOB, N_ ("jobs on the next trip"))

#define SW_DECIDE_FIELD_AS_ENUM(tag, word) SW_DECIDE_##tag,
typedef enum
{
  SW_DECIDE_FIELDS (SW_DECIDE_FIELD_AS_ENUM) SW_N_DECIDE_FIELDS
} SwDecideField;

/* What stands in a field, or is to stand there. 'has' FALSE: nothing; then setting empties the
 * field where it can be empty. Which parts are used:
 * NAME text; COUNT number; CONDITION, WRONG text, source, by_whom; LIFTED number (SwSize); RIDES
 * number (SwStows); DANGER text (of one danger when set, all with ", " between when read), source,
 * by_whom; ASK text (the question), by_whom (the person, NULL for nobody named); OUTLET number
 * (0: by its name in text, without case); PRICE number (minor units); JOB text (when set: the
 * kind, then what; when read as for DANGER). */
typedef struct
{
  gboolean has;
  gint64 number;
  char *text, *source, *by_whom;
} SwDecideValue;
void sw_decide_value_clear (SwDecideValue *value);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SwDecideValue, sw_decide_value_clear)

/* FALSE on an error of the database, or NOT_FOUND. *out_value is filled anew. */
gboolean sw_decide_value_get (SwCatalogue *catalogue, gint64 item, SwDecideField field,
                              SwDecideValue *out_value, GError **error);
/* Whether they say the same; where both are numbers the number says it all. */
gboolean sw_decide_value_equal (const SwDecideValue *a, const SwDecideValue *b);

/* Sets the field, as one act with its event. DANGER, ASK and JOB add one to what stands there, and
 * a danger that stands with the same source is withdrawn (the mark 'never offer before cleared'
 * stays). was (may be NULL): what the person saw; BUSY with a sentence where somebody else changed
 * the field meanwhile. An asking price or an outlet given to what was put off till later does not
 * bring it back. */
gboolean sw_decide_set (SwCatalogue *catalogue, gint64 item, SwDecideField field,
                        const SwDecideValue *value, const SwDecideValue *was, GError **error);

/* Takes over from the item 'from' what stands in these fields (bits 1 << SwDecideField), with its
 * source, as one act. Fields that are empty there are left alone; of the questions the latest is
 * asked here too. *out_n (may be NULL): how many were taken over; REFUSED where none is. */
gboolean sw_decide_repeat (SwCatalogue *catalogue, gint64 item, gint64 from, guint fields,
                           guint *out_n, GError **error);

G_END_DECLS
