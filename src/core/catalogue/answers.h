/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the family answered: who said what when, kept for ever beside each other. The newest answer
 * of a person sets that person's claim (claims.h); nothing that was said is overwritten. Records of
 * the catalogue layer; how answers are written as text is handout/answer-text.h's. */
#pragma once

#include "core/base/language.h"
#include "core/catalogue/items.h"

G_BEGIN_DECLS

/* X (tag, word in the text and the database, as shown, what it claims: SW_CLAIM_ or -1 for 'leaves
 * the claim as it is'). 'keep' is an open claim: it should stay, and who gets it is not settled. */
#define SW_ANSWER_SAYS(X)                                                                          \
  X (NOTHING, "", "", -1)                                                                          \
  X (MINE, "mine", N_ ("mine"), SW_CLAIM_MINE)                                                     \
  X (KEEP, "keep", N_ ("keep"), SW_CLAIM_OPEN)                                                     \
  X (SELL, "sell", N_ ("sell"), SW_CLAIM_NONE)                                                     \
  X (UNSURE, "unsure", N_ ("don't know"), -1)
#define SW_ANSWER_SAYS_AS_ENUM(tag, word, shown, claim) SW_ANSWER_##tag,
typedef enum
{
  SW_ANSWER_SAYS (SW_ANSWER_SAYS_AS_ENUM) SW_N_ANSWER_SAYS
} SwAnswerSays;
const char *sw_answer_says_word (SwAnswerSays says);
const char *sw_answer_says_shown (SwAnswerSays says);

/* One answer as it comes in: to an item, or (question not 0) to a question. */
typedef struct
{
  gint64 item, question;
  SwAnswerSays says; /* NOTHING: a remark alone, or the text of an answer to a question */
  char *text;        /* never NULL, one line */
} SwAnswer;
void sw_answer_free (SwAnswer *answer);

typedef struct
{
  char *catalogue; /* the id of the catalogue that was asked about; NULL: not said (dictated) */
  char *by;        /* NULL: not said */
  gboolean has_at;
  SwInstant at;       /* when they were given */
  GPtrArray *answers; /* SwAnswer */
} SwAnswers;
void sw_answers_free (SwAnswers *answers);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwAnswers, sw_answers_free)

/* What became of one. X (tag, key in JSON). */
#define SW_ANSWER_OUTCOMES(X)                                                                      \
  X (TAKEN, "taken")            /* it stands, and counts */                                        \
  X (CLASH, "clash")            /* it stands, and somebody else says otherwise */                  \
  X (WARNED, N_ ("on its way")) /* it stands, but the item is on offer or on hold */               \
  X (TOLD, N_ ("told already")) /* nothing changed */                                              \
  X (OLDER, "older")            /* kept; the person said something later */                        \
  X (GONE, "gone")              /* kept; the item is sold, kept or gone by now */                  \
  X (UNKNOWN, "unknown")        /* not kept: there is no such number */
#define SW_ANSWER_OUTCOME_AS_ENUM(tag, key) SW_ANSWER_IS_##tag,
typedef enum
{
  SW_ANSWER_OUTCOMES (SW_ANSWER_OUTCOME_AS_ENUM) SW_N_ANSWER_OUTCOMES
} SwAnswerOutcome;
const char *sw_answer_outcome_key (SwAnswerOutcome outcome);

typedef struct
{
  gint64 item, question;
  SwAnswerOutcome outcome;
  char *sentence; /* what a person reads */
} SwAnswerTaken;

typedef struct
{
  char *by;
  GPtrArray *taken; /* SwAnswerTaken, one an answer, in their order */
  int n[SW_N_ANSWER_OUTCOMES];
  char *sentence; /* of the whole */
} SwAnswersReport;
void sw_answers_report_free (SwAnswersReport *report);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwAnswersReport, sw_answers_report_free)

/* Takes them in as one act. by (may be NULL) names the person before what the answers say; a name
 * that is known but for case and blanks is taken as known. What was told before changes nothing; an
 * answer to an item that is sold or gone, and one older than what the person said since, is kept
 * and claims nothing. Transfer full. Errors: REFUSED (of another property), BAD_INPUT (nobody
 * named, no answer). */
SwAnswersReport *sw_answers_take (SwCatalogue *catalogue, const SwAnswers *answers, const char *by,
                                  GError **error);

/* One line of who said what when. */
typedef struct
{
  gint64 id, item, question; /* question 0: about the item */
  char *item_name, *place_path;
  char *person;
  SwAnswerSays says;
  char *text, *question_text; /* question_text NULL: none */
  SwInstant at;
  gboolean latest; /* the person has said nothing later about it */
  /* somebody's latest is 'mine', which blocks every offer of it, and somebody else's latest is
   * 'mine', 'keep' or 'sell'; or two people answered a question otherwise: both are marked */
  gboolean clash;
} SwAnswerSaid;
void sw_answer_said_free (SwAnswerSaid *said);
/* Of the item (0: of all), by item, then by when. GPtrArray of SwAnswerSaid, transfer full. */
GPtrArray *sw_answer_list (SwCatalogue *catalogue, gint64 item, GError **error);

G_END_DECLS
