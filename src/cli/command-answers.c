/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Commands on the family's answers: take them in, and list who said what when. */
#include <string.h>

#include "cli/command.h"
#include "cli/output.h"
#include "core/handout/answer-text.h"
#include "core/base/language.h"

static char *answers_by;

static const GOptionEntry answers_options[] = {
  { "by", 0, 0, G_OPTION_ARG_FILENAME, &answers_by, N_ ("Whose they are, where they do not say so"),
    "NAME" },
  { NULL },
};

static void
report_to_json (const SwAnswersReport *report)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  sw_json_text (builder, "by", report->by);
  json_builder_set_member_name (builder, "answers");
  json_builder_begin_array (builder);
  for (guint i = 0; i < report->taken->len; i++)
    {
      const SwAnswerTaken *taken = g_ptr_array_index (report->taken, i);
      json_builder_begin_object (builder);
      sw_json_int_or_null (builder, "item", taken->item != 0, taken->item);
      sw_json_int_or_null (builder, "question", taken->question != 0, taken->question);
      sw_json_text (builder, "outcome", sw_answer_outcome_key (taken->outcome));
      sw_json_text (builder, "sentence", taken->sentence);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  sw_out_json (builder);
}

static int
take (SwCall *call, GError **error)
{
  g_autoptr (SwCatalogue) catalogue = sw_call_open (call, SW_OPEN_READ_WRITE, error);
  g_autoptr (SwAnswers) answers
      = catalogue != NULL
            ? sw_answer_text_read (call->operands[1], sw_catalogue_zone (catalogue), error)
            : NULL;
  g_autoptr (SwAnswersReport) report
      = answers != NULL ? sw_answers_take (catalogue, answers, answers_by, error) : NULL;

  if (report == NULL)
    return SW_EXIT_REFUSED;
  if (call->json)
    report_to_json (report);
  else
    {
      for (guint i = 0; i < report->taken->len; i++)
        sw_out_line ("%s", ((SwAnswerTaken *)g_ptr_array_index (report->taken, i))->sentence);
      sw_out_line ("%s.", report->sentence);
    }
  return SW_EXIT_STANDS;
}

static void
list_to_json (SwCatalogue *catalogue, const GPtrArray *all)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_array (builder);
  for (guint i = 0; i < all->len; i++)
    {
      const SwAnswerSaid *said = g_ptr_array_index (all, i);
      g_autofree char *at = sw_instant_to_text (said->at, sw_catalogue_zone (catalogue));
      json_builder_begin_object (builder);
      sw_json_int (builder, "item", said->item);
      sw_json_text (builder, "name", said->item_name);
      sw_json_int_or_null (builder, "question", said->question != 0, said->question);
      sw_json_text (builder, "person", said->person);
      sw_json_text (builder, "says", sw_answer_says_word (said->says));
      sw_json_text (builder, "text", said->text);
      sw_json_text (builder, "at", at);
      sw_json_bool (builder, "latest", said->latest);
      sw_json_bool (builder, "clash", said->clash);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  sw_out_json (builder);
}

static char **
row_of (SwCatalogue *catalogue, const SwAnswerSaid *said)
{
  g_autofree char *at = sw_instant_to_text (said->at, sw_catalogue_zone (catalogue));
  char **row = g_new0 (char *, 8);

  row[0] = g_strdup_printf ("%" G_GINT64_FORMAT, said->item);
  row[1] = g_strdup (said->item_name);
  row[2] = g_strdup (said->person);
  row[3] = g_strdup (said->question != 0 ? said->question_text : sw_answer_says_shown (said->says));
  row[4] = g_strdup (said->text);
  row[5] = g_strndup (at, strlen ("YYYY-MM-DD"));
  row[6] = g_strdup (said->clash ? "clash" : said->latest ? "" : _ ("said otherwise later"));
  return row;
}

static int
list (SwCall *call, GError **error)
{
  static const char *const head[]
      = { "number", "name", "who", "says", "in words", "when", "", NULL };
  g_autoptr (SwCatalogue) catalogue = sw_call_open (call, SW_OPEN_READ_ONLY, error);
  g_autoptr (GPtrArray) all = catalogue != NULL ? sw_answer_list (catalogue, 0, error) : NULL;
  g_autoptr (GPtrArray) rows = g_ptr_array_new_with_free_func ((GDestroyNotify)g_strfreev);

  if (all == NULL)
    return SW_EXIT_REFUSED;
  if (call->json)
    {
      list_to_json (catalogue, all);
      return SW_EXIT_STANDS;
    }
  g_ptr_array_add (rows, g_strdupv ((char **)head));
  for (guint i = 0; i < all->len; i++)
    g_ptr_array_add (rows, row_of (catalogue, g_ptr_array_index (all, i)));
  if (all->len == 0)
    sw_out_line (_ ("Nobody has answered yet."));
  else
    sw_out_table (rows, 1);
  return SW_EXIT_STANDS;
}

static int
run_answers (SwCall *call, GError **error)
{
  return call->n_operands == 1 ? list (call, error) : take (call, error);
}

const SwCommand sw_answers_commands[] = {
  { "answers", "CAT [FILE]", 1, 2,
    N_ ("Take the family's answers in from a file; without one, list who said what when"),
    N_ ("FILE is what the family choice made, a message with its text, or what was dictated, one "
        "or\n"
        "more a line: 12 mine, 14 keep: the blue one. Words: mine, keep, sell, unsure. All or "
        "nothing;\n"
        "the same answers again change nothing, and nothing that somebody else said is "
        "overwritten.\n"
        "Example: shedwalk answers CAT answers-Ruth.txt"),
    run_answers, answers_options },
  { NULL },
};
