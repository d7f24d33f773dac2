/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of sayings: what each asks for, in which words. */
#include "app/say-kinds.h"

#include "app/text.h"
#include "app/trade-words.h"
#include "app/typed-day.h"
#include "core/base/solid.h"
#include "core/catalogue/dangers.h"
#include "core/catalogue/jobs.h"

static const char *const *
lifts (void)
{
  static const char *const words[] = { "hand", "two people", "machine", NULL };
  return words;
}

static const char *const *
rides (void)
{
  static const char *const words[] = { "shelf", "floor", "roof", "trailer", NULL };
  return words;
}

static const char *const *
masses (void)
{
  static const char *const words[] = { "weighed", "typed", "guessed", "size class", NULL };
  return words;
}

static const char *const *
prices (void)
{
  static const char *const words[] = { "paid", "new", "like things", "guessed", NULL };
  return words;
}

static const char *const *
claims (void)
{
  static const char *const words[] = { "open", "mine", "none", NULL };
  return words;
}

/* Words of core's own tables, listed once. */
static const char *const *
job_words (void)
{
  return sw_job_kinds ();
}

static const char *const *
danger_words (void)
{
  static const char *words[32];
  gsize n = 0;
  const SwDanger *dangers = sw_dangers (&n);

  for (gsize i = 0; i < n && i < G_N_ELEMENTS (words) - 1; i++)
    words[i] = dangers[i].word;
  return words;
}

static const char *const *
shape_words (void)
{
  static const char *words[SW_N_SHAPES + 1];

  for (int i = 0; i < SW_N_SHAPES; i++)
    words[i] = sw_shape_word ((SwShape)i);
  return words;
}

/* A table of words with its end marked, for a field that wants it so. */
static const char *const *
ended (const char *const *table, guint n, const char **words, guint most)
{
  for (guint i = 0; i < n && i < most - 1; i++)
    words[i] = _ (table[i]);
  return words;
}

static const char *const *
condition_words (void)
{
  static const char *words[32];
  guint n = 0;
  const char *const *table = sw_trade_conditions (&n);

  return ended (table, n, words, G_N_ELEMENTS (words));
}

static const char *const *
fault_words (void)
{
  static const char *words[64];
  guint n = 0;
  const char *const *table = sw_trade_faults (&n);

  return ended (table, n, words, G_N_ELEMENTS (words));
}

static const char *const *
material_words (void)
{
  static const char *words[32];
  gsize n = 0;
  const SwMaterial *materials = sw_materials (&n);

  for (gsize i = 0; i < n && i < G_N_ELEMENTS (words) - 1; i++)
    words[i] = materials[i].word;
  return words;
}

static const char *const *
many_states (void)
{
  static const char *const words[]
      = { N_ ("Ready"),   N_ ("Found"),     N_ ("Kept"),     N_ ("Given away"), N_ ("Bring home"),
          N_ ("At home"), N_ ("For scrap"), N_ ("Disposed"), N_ ("Missing"),    NULL };
  return words;
}

#define SOURCE                                                                                     \
  { SW_FIELD_SOURCE, N_ ("Source"), NULL, NULL, TRUE },                                            \
  {                                                                                                \
    SW_FIELD_TELLER, N_ ("By"), N_ ("who told it"), NULL, TRUE                                     \
  }

static const SwSaySpec specs[SW_N_SAYS] = {
  [SW_SAY_CONDITION]
  = { N_ ("Condition"),
      TRUE,
      { { SW_FIELD_TEXT, N_ ("Condition"), N_ ("sound, worn, rusted…"), condition_words, TRUE },
        SOURCE } },
  [SW_SAY_WRONG] = { N_ ("What is wrong"),
                     TRUE,
                     { { SW_FIELD_TEXT, N_ ("What is wrong"),
                         N_ ("what does not work or is missing"), fault_words, TRUE },
                       SOURCE } },
  [SW_SAY_STORY]
  = { N_ ("Its story"), TRUE, { { SW_FIELD_LONG, N_ ("Its story"), NULL, NULL, TRUE }, SOURCE } },
  [SW_SAY_BELONGS]
  = { N_ ("What belongs to it"),
      TRUE,
      { { SW_FIELD_TEXT, N_ ("What belongs to it"), N_ ("crank, lid, key…"), NULL, TRUE },
        { SW_FIELD_PLACE, N_ ("Stands in"), NULL, NULL, FALSE },
        SOURCE } },
  [SW_SAY_DANGER] = { N_ ("Danger"),
                      FALSE,
                      { { SW_FIELD_CHOICE, N_ ("Danger"), NULL, danger_words, TRUE }, SOURCE } },
  [SW_SAY_FACT] = { N_ ("Other fact"),
                    TRUE,
                    { { SW_FIELD_TEXT, N_ ("Fact about"), N_ ("maker, year, thread…"), NULL, TRUE },
                      { SW_FIELD_TEXT, N_ ("Fact"), NULL, NULL, TRUE },
                      SOURCE } },
  [SW_SAY_SIZE] = { N_ ("Size"),
                    TRUE,
                    { { SW_FIELD_CHOICE, N_ ("Lifted by"), NULL, lifts, FALSE },
                      { SW_FIELD_CHOICE, N_ ("Rides on"), NULL, rides, FALSE },
                      { SW_FIELD_MM, N_ ("Length"), N_ ("mm"), NULL, FALSE },
                      { SW_FIELD_MM, N_ ("Width"), N_ ("mm"), NULL, FALSE },
                      { SW_FIELD_MM, N_ ("Height"), N_ ("mm"), NULL, FALSE },
                      { SW_FIELD_CHECK, N_ ("Measures are guessed"), NULL, NULL, FALSE } } },
  [SW_SAY_MASS]
  = { N_ ("Mass"),
      TRUE,
      { { SW_FIELD_CHOICE, N_ ("Mass is"), NULL, masses, TRUE },
        { SW_FIELD_TEXT, N_ ("Mass"), N_ ("85 kg, for all of them"), NULL, FALSE } } },
  [SW_SAY_SHAPE] = { N_ ("Work out its mass"),
                     FALSE,
                     { { SW_FIELD_CHOICE, N_ ("Shape"), NULL, shape_words, TRUE },
                       { SW_FIELD_CHOICE, N_ ("Made of"), NULL, material_words, TRUE },
                       { SW_FIELD_MM, N_ ("Measure 1"), N_ ("mm"), NULL, TRUE },
                       { SW_FIELD_MM, N_ ("Measure 2"), N_ ("mm"), NULL, TRUE },
                       { SW_FIELD_MM, N_ ("Measure 3"), N_ ("mm"), NULL, FALSE },
                       { SW_FIELD_MM, N_ ("Measure 4"), N_ ("mm"), NULL, FALSE },
                       { SW_FIELD_MM, N_ ("Measure 5"), N_ ("mm"), NULL, FALSE } } },
  [SW_SAY_PRICE] = { N_ ("Price evidence"),
                     TRUE,
                     { { SW_FIELD_CHOICE, N_ ("Price"), NULL, prices, TRUE },
                       { SW_FIELD_MONEY, N_ ("Amount"), NULL, NULL, TRUE },
                       { SW_FIELD_DAY, N_ ("Day"), SW_DAY_HINT, NULL, FALSE },
                       { SW_FIELD_TEXT, N_ ("Known from"), N_ ("bill, list, person"), NULL, FALSE },
                       { SW_FIELD_TEXT, N_ ("Remark"), NULL, NULL, FALSE } } },
  [SW_SAY_RESERVE]
  = { N_ ("Reserve"),
      TRUE,
      { { SW_FIELD_MONEY, N_ ("Reserve"), N_ ("the least that is taken"), NULL, FALSE } } },
  [SW_SAY_SCRAP]
  = { N_ ("Scrap class"),
      TRUE,
      { { SW_FIELD_TEXT, N_ ("Scrap class"), N_ ("as the yard calls it"), NULL, FALSE } } },
  [SW_SAY_RATE]
  = { N_ ("Yard rate"),
      FALSE,
      { { SW_FIELD_YARD, N_ ("Yard"), N_ ("name of the yard"), NULL, TRUE },
        { SW_FIELD_TEXT, N_ ("Scrap class"), NULL, NULL, TRUE },
        { SW_FIELD_MONEY, N_ ("For a tonne"), NULL, NULL, TRUE },
        { SW_FIELD_DAY, N_ ("From"), SW_DAY_HINT, NULL, TRUE },
        { SW_FIELD_CHECK, N_ ("The yard charges that to take it"), NULL, NULL, FALSE } } },
  [SW_SAY_QUESTION] = { N_ ("Question"),
                        FALSE,
                        { { SW_FIELD_TEXT, N_ ("Question"), N_ ("what to find out"), NULL, TRUE },
                          { SW_FIELD_TEXT, N_ ("Ask"), N_ ("who knows"), NULL, FALSE },
                          { SW_FIELD_DAY, N_ ("By"), SW_DAY_HINT, NULL, FALSE } } },
  [SW_SAY_ANSWER] = { N_ ("Answer"),
                      FALSE,
                      { { SW_FIELD_TEXT, N_ ("Answer"), N_ ("‘mine’ claims it"), NULL, TRUE },
                        { SW_FIELD_TEXT, N_ ("Answered by"), NULL, NULL, FALSE } } },
  [SW_SAY_CLAIM] = { N_ ("Claim"),
                     FALSE,
                     { { SW_FIELD_TEXT, N_ ("Person"), N_ ("who may want it"), NULL, TRUE },
                       { SW_FIELD_CHOICE, N_ ("Claim is"), NULL, claims, TRUE } } },
  [SW_SAY_JOB] = { N_ ("Job on site"),
                   FALSE,
                   { { SW_FIELD_CHOICE, N_ ("To do"), NULL, job_words, TRUE },
                     { SW_FIELD_TEXT, N_ ("What"), NULL, NULL, FALSE },
                     { SW_FIELD_TEXT, N_ ("Tools"), NULL, NULL, FALSE },
                     { SW_FIELD_NUMBER, N_ ("Hands"), N_ ("1"), NULL, FALSE } } },
  [SW_SAY_BREAK_UP]
  = { N_ ("Break up"),
      FALSE,
      { { SW_FIELD_LONG, N_ ("Parts, one a line, a count before it"), NULL, NULL, TRUE } } },
  [SW_SAY_MANY_STATE]
  = { N_ ("State"), FALSE, { { SW_FIELD_CHOICE, N_ ("State"), NULL, many_states, TRUE } } },
  [SW_SAY_MANY_PLACE]
  = { N_ ("Place"), FALSE, { { SW_FIELD_PLACE, N_ ("Place"), NULL, NULL, TRUE } } },
  [SW_SAY_MANY_OUTLET]
  = { N_ ("Outlet"), FALSE, { { SW_FIELD_OUTLET, N_ ("Outlet"), NULL, NULL, TRUE } } },
  [SW_SAY_MANY_PRICE] = { N_ ("Price by rule"),
                          FALSE,
                          { { SW_FIELD_TEXT, N_ ("Percent"), N_ ("-10"), NULL, TRUE },
                            { SW_FIELD_MONEY, N_ ("Round to"), N_ ("5.00"), NULL, FALSE } } },
  [SW_SAY_MANY_ASK] = { N_ ("Ask"),
                        FALSE,
                        { { SW_FIELD_TEXT, N_ ("Question"), N_ ("what to find out"), NULL, TRUE },
                          { SW_FIELD_TEXT, N_ ("Ask"), N_ ("who knows"), NULL, FALSE },
                          { SW_FIELD_DAY, N_ ("By"), SW_DAY_HINT, NULL, FALSE } } },
  [SW_SAY_MANY_JOB] = { N_ ("Job"),
                        FALSE,
                        { { SW_FIELD_CHOICE, N_ ("To do"), NULL, job_words, TRUE },
                          { SW_FIELD_TEXT, N_ ("What"), NULL, NULL, FALSE },
                          { SW_FIELD_TEXT, N_ ("Tools"), NULL, NULL, FALSE },
                          { SW_FIELD_NUMBER, N_ ("Hands"), N_ ("1"), NULL, FALSE } } },
  [SW_SAY_MANY_LOT] = { N_ ("Lot"),
                        FALSE,
                        { { SW_FIELD_TEXT, N_ ("Name of the lot"),
                            N_ ("under the name of a lot that is there it grows"), NULL, TRUE } } },
};

const SwSaySpec *
sw_say_spec (SwSayKind kind)
{
  g_return_val_if_fail (kind < SW_N_SAYS, NULL);
  return &specs[kind];
}

gboolean
sw_say_can_withdraw (SwSayKind kind)
{
  return kind <= SW_SAY_FACT ? kind != SW_SAY_SIZE && kind != SW_SAY_MASS && kind != SW_SAY_SHAPE
                             : kind == SW_SAY_PRICE || kind == SW_SAY_ANSWER || kind == SW_SAY_JOB;
}
