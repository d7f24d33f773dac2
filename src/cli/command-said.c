/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Commands that say something of an item: a fact, a danger, a question, a job on site. */
#include "cli/command.h"
#include "cli/output.h"
#include "core/catalogue/dangers.h"
#include "core/catalogue/facts.h"
#include "core/catalogue/jobs.h"
#include "core/catalogue/questions.h"
#include "core/base/language.h"

/* Operand 1, in the catalogue of operand 0. FALSE with the error set. */
static gboolean
open_item (SwCall *call, SwCatalogue **out_catalogue, SwItem **out_item, GError **error)
{
  *out_catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, error);
  *out_item
      = *out_catalogue != NULL ? sw_item_find (*out_catalogue, call->operands[1], error) : NULL;
  return *out_item != NULL;
}

/* ---- facts and dangers ---- */

static char *fact_source, *fact_by;

static const GOptionEntry fact_options[] = {
  { "source", 0, 0, G_OPTION_ARG_FILENAME, &fact_source, N_ ("How it is known; seen by default"),
    "seen|tried|told|guessed" },
  { "by", 0, 0, G_OPTION_ARG_FILENAME, &fact_by, N_ ("With told: who told it"), "NAME" },
  { NULL },
};

static int
run_fact (SwCall *call, GError **error)
{
  const char *kind = call->operands[2], *text = call->operands[3];
  const char *source = fact_source != NULL ? fact_source : "seen";
  g_autoptr (SwCatalogue) catalogue = NULL;
  g_autoptr (SwItem) item = NULL;

  if (!open_item (call, &catalogue, &item, error)
      || !sw_fact_add (catalogue, item->id, kind, text, source, fact_by, NULL, error))
    return SW_EXIT_REFUSED;
  sw_out_line ("%s: %s: %s (%s).", item->name, kind, text, source);
  return SW_EXIT_STANDS;
}

static int
run_danger (SwCall *call, GError **error)
{
  const char *source = fact_source != NULL ? fact_source : "seen";
  g_autoptr (SwCatalogue) catalogue = NULL;
  g_autoptr (SwItem) item = NULL;
  const SwDanger *danger;

  if (!open_item (call, &catalogue, &item, error)
      || !sw_danger_add (catalogue, item->id, call->operands[2], source, fact_by, error))
    return SW_EXIT_REFUSED;
  danger = sw_danger_find (call->operands[2]);
  sw_out_line ("%s: %s. %s", item->name, _ (danger->word), _ (danger->caution));
  return SW_EXIT_STANDS;
}

/* ---- questions ---- */

static char *ask_whom, *ask_by;

static const GOptionEntry ask_options[] = {
  { "whom", 0, 0, G_OPTION_ARG_FILENAME, &ask_whom, N_ ("Who may know"), "NAME" },
  { "until", 0, 0, G_OPTION_ARG_FILENAME, &ask_by, N_ ("By when it must be known"), "YYYY-MM-DD" },
  { NULL },
};

static int
run_ask (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = NULL;
  g_autoptr (SwItem) item = NULL;
  SwDay by;

  if (!open_item (call, &catalogue, &item, error)
      || (ask_by != NULL && !sw_call_day (catalogue, ask_by, &by, error))
      || !sw_question_add (catalogue, item->id, call->operands[2], ask_whom,
                           ask_by != NULL ? &by : NULL, NULL, error))
    return SW_EXIT_REFUSED;
  sw_out_line (_ ("%s: to ask%s%s: %s"), item->name, ask_whom != NULL ? " " : "",
               ask_whom != NULL ? ask_whom : "", call->operands[2]);
  return SW_EXIT_STANDS;
}

/* ---- jobs ---- */

static char *job_tools, *job_hands;

static const GOptionEntry job_options[] = {
  { "tools", 0, 0, G_OPTION_ARG_FILENAME, &job_tools,
    N_ ("Tools and material to pack, with commas between"), "TOOLS" },
  { "hands", 0, 0, G_OPTION_ARG_FILENAME, &job_hands, N_ ("How many people it needs; 1 by default"),
    "N" },
  { NULL },
};

static int
run_job (SwCall *call, GError **error)
{
  const char *text = call->n_operands > 3 ? call->operands[3] : NULL;
  g_autoptr (SwCatalogue) catalogue = NULL;
  g_autoptr (SwItem) item = NULL;
  gint64 hands = 1;

  if (job_hands != NULL
      && !sw_call_number (job_hands, _ ("The number of people"), 1, &hands, error))
    return SW_EXIT_MALFORMED;
  if (!open_item (call, &catalogue, &item, error)
      || !sw_job_add_with (catalogue, item->id, 0, call->operands[2], text, job_tools, hands, NULL,
                           error))
    return SW_EXIT_REFUSED;
  sw_out_line (_ ("%s: to %s on site%s%s."), item->name, call->operands[2],
               text != NULL ? ": " : "", text != NULL ? text : "");
  return SW_EXIT_STANDS;
}

const SwCommand sw_said_commands[] = {
  { "fact", "CAT ITEM KIND TEXT", 4, 4, N_ ("Say something of an item, and how it is known"),
    N_ ("KIND is condition, what is wrong, belongs to it, story, or a word of your own (maker, "
        "bore).\n"
        "Example: shedwalk fact CAT 'Belt pump' condition turns --source tried"),
    run_fact, fact_options },
  { "danger", "CAT ITEM DANGER", 3, 3, N_ ("Mark an item as dangerous, with the usual caution"),
    N_ ("The words are told where another is given. Local codes and licensed people come first.\n"
        "Example: shedwalk danger CAT 'Chain hoist' 'heavy lift'"),
    run_danger, fact_options },
  { "ask", "CAT ITEM QUESTION", 3, 3, N_ ("Put down what is to be found out about an item"),
    N_ ("It stands on the call list of the one who may know, and on the next trip's sheet."),
    run_ask, ask_options },
  { "job", "CAT ITEM KIND [TEXT]", 3, 4, N_ ("Put down what is to be done with an item on site"),
    N_ ("KIND is photograph, measure, try, gather, clean, drain, take off, cut, tag or load. It "
        "stands\n"
        "on the next trip's sheet, its tools on the list of what to pack.\n"
        "Example: shedwalk job CAT 'Iron gate' 'take off' --tools 'spanners, penetrating oil' "
        "--hands "
        "2"),
    run_job, job_options },
  { NULL },
};
