/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a person can say of an item, or do to several: one table of the kinds with their fields.
 * Data only; what each does is say.h, the widget say-form.h. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum
{
  SW_SAY_CONDITION,
  SW_SAY_WRONG,
  SW_SAY_SIZE,
  SW_SAY_MASS,
  SW_SAY_SHAPE,
  SW_SAY_BELONGS,
  SW_SAY_DANGER,
  SW_SAY_STORY,
  SW_SAY_FACT,
  SW_SAY_PRICE,
  SW_SAY_RESERVE,
  SW_SAY_SCRAP,
  SW_SAY_RATE,
  SW_SAY_QUESTION,
  SW_SAY_ANSWER,
  SW_SAY_CLAIM,
  SW_SAY_JOB,
  SW_SAY_BREAK_UP,
  /* of several items */
  SW_SAY_MANY_STATE,
  SW_SAY_MANY_PLACE,
  SW_SAY_MANY_OUTLET,
  SW_SAY_MANY_PRICE,
  SW_SAY_MANY_ASK,
  SW_SAY_MANY_JOB,
  SW_SAY_MANY_LOT,
  SW_N_SAYS,
} SwSayKind;

typedef enum
{
  SW_FIELD_END,
  SW_FIELD_TEXT,
  SW_FIELD_LONG,   /* several lines */
  SW_FIELD_SOURCE, /* seen, tried, told, guessed */
  SW_FIELD_TELLER, /* who told; only with 'told' */
  SW_FIELD_MONEY,  /* the value is in minor units */
  SW_FIELD_DAY,    /* as sw_typed_day reads it */
  SW_FIELD_MM,
  SW_FIELD_NUMBER,
  SW_FIELD_CHOICE,
  SW_FIELD_PLACE,  /* the value is the place's number */
  SW_FIELD_OUTLET, /* chosen by name among those that there are */
  SW_FIELD_YARD,   /* typed, completed from the yards that there are */
  SW_FIELD_CHECK,  /* "1" or "" */
} SwFieldKind;

#define SW_SAY_FIELDS 8

typedef struct
{
  SwFieldKind kind;
  const char *label, *hint;
  /* CHOICE: the words, NULL-terminated; the value is the word itself. TEXT: completed from them */
  const char *const *(*choices) (void);
  gboolean needed;
} SwSayField;

typedef struct
{
  const char *title; /* what its button says */
  gboolean as_typed; /* saved while it is typed; else once, when it is confirmed */
  SwSayField fields[SW_SAY_FIELDS + 1];
} SwSaySpec;

/* The fields of a kind. Static. */
const SwSaySpec *sw_say_spec (SwSayKind kind);

/* Whether what was said can be taken out again by itself. */
gboolean sw_say_can_withdraw (SwSayKind kind);

G_END_DECLS
