/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every statement of every call fails once: a call either says so, in a sentence, and leaves the
 * catalogue as it was to the byte, or could do without it and does all it does on a sound disk.
 * The same open catalogue goes on serving. */
#include "failing-statement.h"
#include "in-turn.h"
#include "statement-bed.h"
#include "unit/sw-test-catalogue.h"

#define DATABASE STATEMENT_CATALOGUE "/catalogue.db"

/* What a call came to. */
typedef struct
{
  gboolean done;
  char *sentence; /* not done: why */
  GBytes *said;   /* what a command printed; NULL for a call of core */
  GBytes *made;   /* the file that it wrote; of a folder the list; NULL: none is there */
  GBytes *stands; /* the database's bytes after it */
  int steps;
} Outcome;

static void
outcome_clear (Outcome *outcome)
{
  g_clear_pointer (&outcome->sentence, g_free);
  g_clear_pointer (&outcome->said, g_bytes_unref);
  g_clear_pointer (&outcome->made, g_bytes_unref);
  g_clear_pointer (&outcome->stands, g_bytes_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Outcome, outcome_clear)

static GBytes *before;
static int all_failed, all_borne;

static GBytes *
file_bytes (const char *path)
{
  char *bytes = NULL;
  gsize n = 0;

  assert_true (g_file_get_contents (path, &bytes, &n, NULL));
  return g_bytes_new_take (bytes, n);
}

/* Of every file below, in no order: a sum over all. */
static guint64
sum_of (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name;
  guint64 sum = 0;

  if (dir == NULL)
    {
      g_autoptr (GBytes) bytes = file_bytes (path);
      gsize n = 0;
      const void *data = g_bytes_get_data (bytes, &n);
      return XXH3_64bits_withSeed (data, n, g_str_hash (path));
    }
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *inner = g_build_filename (path, name, NULL);
      sum += sum_of (inner);
    }
  return sum;
}

static GBytes *
made_bytes (const StatementJob *job)
{
  guint64 sum;

  if (job->makes == NULL || !g_file_test (job->makes, G_FILE_TEST_EXISTS))
    return NULL;
  sum = sum_of (job->makes);
  return g_bytes_new (&sum, sizeof sum);
}

static void
hold (void)
{
  g_autoptr (GError) error = NULL;

  in_turn_hold (STATEMENT_CATALOGUE, &error);
  assert_no_error (error);
}

static gboolean
has_changed (const Outcome *outcome)
{
  return !g_bytes_equal (before, outcome->stands);
}

/* As it was before any call; the catalogue is opened anew where it had changed. */
static void
put_back (const StatementJob *job, const Outcome *outcome)
{
  gsize n = 0;
  const char *bytes = g_bytes_get_data (before, &n);

  if (job->makes != NULL)
    sw_test_remove_tree (job->makes);
  if (!has_changed (outcome))
    return;
  in_turn_let_go ();
  assert_true (g_file_set_contents (DATABASE, bytes, (gssize)n, NULL));
  hold ();
}

static void
run_command (const char *line, Outcome *outcome)
{
  g_auto (GStrv) words = statement_words (line);
  g_autoptr (GBytes) complained = NULL;
  gsize n = 0;
  const char *text;

  outcome->done = in_turn_run (words, &outcome->said, &complained) == 0;
  text = g_bytes_get_data (complained, &n);
  outcome->sentence = g_strchomp (g_strndup (n > 0 ? text : "", n));
}

static void
run_call (StatementCall call, Outcome *outcome)
{
  g_autoptr (GError) error = NULL;

  outcome->done = call (in_turn_held (), &error);
  assert_true (outcome->done == (error == NULL));
  outcome->sentence = g_strdup (error != NULL ? error->message : "");
}

static Outcome
run (const StatementJob *job, int fails_at)
{
  Outcome outcome = { 0 };

  failing_statement_begin (fails_at);
  if (job->call != NULL)
    run_call (job->call, &outcome);
  else
    run_command (job->name, &outcome);
  outcome.steps = failing_statement_end ();
  outcome.stands = file_bytes (DATABASE);
  outcome.made = made_bytes (job);
  return outcome;
}

/* NULL where all is well. */
static char *
what_is_wrong (const StatementJob *job, const Outcome *sound, const Outcome *failed)
{
  if (failed->done)
    {
      if (sound->said != NULL && !g_bytes_equal (sound->said, failed->said))
        return g_strdup ("it is said to be done and prints something else");
      if (!g_bytes_equal (sound->stands, failed->stands))
        return g_strdup ("it is said to be done and something else stands");
      if (sound->made != NULL
          && (failed->made == NULL || !g_bytes_equal (sound->made, failed->made)))
        return g_strdup ("it is said to be done and wrote something else");
      return NULL;
    }
  if (!sw_test_is_sentence (failed->sentence))
    return g_strdup_printf ("it says no sentence: \"%s\"", failed->sentence);
  if (!job->in_parts && has_changed (failed) && !g_bytes_equal (sound->stands, failed->stands))
    return g_strdup ("it was refused and half of it stands");
  if (job->call == NULL && has_changed (failed) && strstr (failed->sentence, "stands.") == NULL)
    return g_strdup_printf ("it does not say that a change stands: \"%s\"", failed->sentence);
  if (failed->made != NULL && strstr (failed->sentence, "was written") == NULL)
    return g_strdup_printf ("it was refused and %s is there", job->makes);
  return NULL;
}

static void
test_each_fails_once (void **state)
{
  const StatementJob *job = *state;
  g_auto (Outcome) sound = run (job, 0);
  g_auto (Outcome) again = { 0 };
  int wrong = 0, borne = 0;

  if (!sound.done)
    print_error ("%s: %s\n", job->name, sound.sentence);
  assert_true (sound.done);
  assert_true (sound.steps > 0);
  put_back (job, &sound);
  for (int at = 1; at <= sound.steps; at++)
    {
      g_auto (Outcome) failed = run (job, at);
      g_autofree char *fault = what_is_wrong (job, &sound, &failed);

      borne += failed.done;
      if (fault != NULL)
        {
          print_error ("%s, statement %d of %d (%s): %s\n", job->name, at, sound.steps,
                       failing_statement_text (), fault);
          wrong++;
        }
      put_back (job, &failed);
    }
  assert_int_equal (wrong, 0);
  again = run (job, 0);
  assert_true (again.done);
  assert_true (g_bytes_equal (again.stands, sound.stands));
  put_back (job, &again);
  all_failed += sound.steps;
  all_borne += borne;
}

static void
add_jobs (SwTests *tests, const StatementJob *jobs)
{
  for (const StatementJob *job = jobs; job->name != NULL; job++)
    sw_tests_add (tests, job->name, test_each_fails_once, job);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();
  StatementBed bed;
  int failures;

  statement_bed_open (&bed);
  in_turn_let_go ();
  hold ();
  before = file_bytes (DATABASE);
  add_jobs (tests, statement_commands);
  add_jobs (tests, statement_calls);
  failures = sw_tests_run (tests, "statements");
  print_message ("%d statements failed once; without %d of them all was done as on a sound disk.\n",
                 all_failed, all_borne);
  g_bytes_unref (before);
  statement_bed_close (&bed);
  return failures;
}
