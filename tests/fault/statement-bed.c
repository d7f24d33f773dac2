/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "statement-bed.h"

#include "in-turn.h"
#include "unit/sw-test-money.h"
#include "unit/sw-test-walk.h"

/* 2026-06-25T00:00:00Z: after the walk, before the next trip. */
#define NOW G_GINT64_CONSTANT (1782345600000000)

static SwInstant
now (gpointer data G_GNUC_UNUSED)
{
  return (SwInstant){ NOW };
}

static void
stop_the_clock (SwCatalogue *catalogue)
{
  sw_catalogue_set_clock (catalogue, now, NULL);
}

/* A sale that is paid and fetched, two that run, a no sale, a docket, a sale by hand. */
static const char money_table[]
    = "what,ref,outlet,kind,item,from,charge,on,flat,tiers,tax,up,closes,at,result,amount,delivery,"
      "buyer,"
      "trip,remark,gross,tare,class,net,rate,looks,followers,bids,start\n"
      "outlet,,Hill Road,auction,,,,,,,,,,,,,,,,,,,,,,,,,\n"
      "outlet,,Board,priced ad,,,,,,,,,,,,,,,,,,,,,,,,,\n"
      "outlet,,Yard,scrap yard,,,,,,,,,,,,,,,,,,,,,,,,,\n"
      "charge,,Hill Road,,,2026-01-01,listing,offer,2.00,,15%,,,,,,,,,,,,,,,,,,\n"
      "charge,,Hill Road,,,2026-01-01,commission,price,,100:10%;:5%,,,,,,,,,,,,,,,,,,,\n"
      "offer,A1,Hill Road,,Screw press,,,,,,,2026-04-14,2026-04-26T20:00,,,,,,,,,,,,,,,,\n"
      "result,A1,,,,,,,,,,,,2026-04-26T20:00,sold,200.00,10.00,A. Buyer,,,,,,,,,,,\n"
      "payment,A1,,,,,,,,,,,,2026-04-28,,150.00,,,,,,,,,,,,,\n"
      "offer,A2,Hill Road,,Crates,,,,,,,2026-06-20,2026-06-28T20:00,,,,,,,,,,,,,,,,80.00\n"
      "interest,A2,,,,,,,,,,,,2026-06-24T20:00,,50.00,,,,,,,,,,10,2,1,\n"
      "offer,A3,Hill Road,,Scales,,,,,,,2026-05-14,2026-05-26T20:00,,,,,,,,,,,,,,,,\n"
      "result,A3,,,,,,,,,,,,2026-05-26T20:00,no sale,,,,,,,,,,,,,,\n"
      "offer,A4,Hill Road,,Bottles,,,,,,,2026-06-20,2026-06-28T20:05,,,,,,,,,,,,,,,,\n"
      "sale,S1,,,Ladder,,,,,,,,,2026-05-09,,35.00,,B. Buyer,,,,,,,,,,,\n"
      "collected,S1,,,,,,,,,,,,2026-05-10,,,,,,,,,,,,,,,\n"
      "docket,D1,Yard,,,,,,,,,,,2026-05-10,,,,,,,2300,2000,,,,,,,\n"
      "docket line,D1,,,Pump,,,,,,,,,,,56.25,,,,,,,cast iron,300,187.50,,,,\n"
      "cost,,,,,,,,,,,,,2026-04-12,,48.20,,,1,diesel,,,,,,,,,\n";

/* Two more lots, in a table that is booked while statements fail. */
static const char more_money[]
    = "what,ref,outlet,item,up,closes,at,result,amount,buyer,charge,trip\n"
      "offer,B1,Board,Vat,2026-06-21,,,,,,,\n"
      "result,A2,,,,,2026-06-24T20:00,sold,90.00,C. Buyer,,\n"
      "payment,A2,,,,,2026-06-25,,80.00,,,\n"
      "reversal,A1,,,,,2026-06-24,,20.00,,,\n"
      "fee,A1,,,,,2026-06-24,,12.00,,commission,\n"
      "cost,,,,,,2026-06-22,,5.00,,,3\n";

static const char docket_table[]
    = "what,ref,outlet,at,gross,tare,class,net,rate,amount,item,place\n"
      "docket,D2,Yard,2026-06-24,2100,2000,,,,,,\n"
      "docket line,D2,,,,,copper,100,6100.00,610.00,Vat,\n";

static const char statement_table[] = "Lot,Day,Hammer,Charges\n"
                                      "A1,2026-04-26,200.00,18.00\n"
                                      "A9,2026-04-27,70.00,7.00\n";

static const char answers_text[] = "4 mine\n7 keep: the green ones\n1 sell\n";

static const char more_notes[] = "time,place,item,count,remark\n"
                                 "2026-06-21 09:00:00,Glasshouse,Stove,1,door gone\n"
                                 "2026-06-21 09:05:00,Glasshouse > Boiler room,Pot,12,\n";

/* Commands that must be done. */
static const char *const made_by[] = {
  "notes CAT walk.txt --trip 3",
  "clock CAT 'Orchard Pocket' --trip 3 --shift 1",
  "pair CAT --trip 3",
  "book CAT money.csv",
  "trip add CAT --title Next --first 2026-07-01 --last 2026-07-04",
  "place add CAT Home --off-property",
  "place add CAT Cooperage --position -41.1005,175.1002",
  "item set CAT Vat --scrap-class copper --tag 7 --asking 120.00",
  "item set CAT Bottles --claim open --by Ada",
  "item set CAT 8 --asking 30.00",
  "item add CAT Barrel --place 'Press house' --trip 2 --count 4 --asking 60.00",
  "item add CAT Bench --place Cooperage --trip 2",
  "item set CAT Bench --mass '40 kg'",
  "item move CAT Bench 'Bring home'",
  "item add CAT Grate --place 'Press house' --trip 2",
  "item set CAT Grate --mass '90 kg' --scrap-class 'cast iron'",
  "item move CAT Grate 'For scrap'",
  "yard rate CAT Yard copper 6100.00 --from 2026-04-01",
  "yard rate CAT Yard 'cast iron' 180.00 --from 2026-04-01",
  "yard load CAT '500 kg' 45.00",
  "van CAT --payload '850 kg' --length 2.6m --width 1.3m --height 1.6m --door-width 1.2m "
  "--door-height 1.3m",
  "share CAT Ada 60",
  "share CAT Bert 40",
  "account entry CAT advance Ada 20.00 --day 2026-05-01",
  "account entry CAT holds Bert 35.00 --day 2026-05-10",
  "fact CAT Vat condition dented --source tried",
  "fact CAT Barrel 'what is wrong' 'one stave gone' --source told --by Ada",
  "danger CAT Vat 'heavy lift'",
  "ask CAT Vat 'whose is it' --whom Ada --until 2026-07-01",
  "ask CAT Barrel 'is the tap there'",
  "job CAT Vat drain 'water inside' --tools 'hose, bucket' --hands 2",
  "round CAT April A1 A3",
  "outlet limits CAT Board --title 60 --text 2000",
  "on-site CAT --hours '9 to 5' --way 'second gate'",
  "last-day CAT 2026-12-31",
  "answers CAT answers.txt --by Bert",
  "hand-out CAT sheet --to kept.pdf",
};

/* A window's own: prices, boxes on the plan, a lot, a result that was caught. */
static void
enter_the_rest (SwCatalogue *catalogue)
{
  for (const StatementJob *job = statement_calls; job->name != NULL; job++)
    if (g_str_has_prefix (job->name, "bed: "))
      {
        g_autoptr (GError) error = NULL;
        gboolean ok = job->call (catalogue, &error);
        assert_no_error (error);
        assert_true (ok);
      }
}

char **
statement_words (const char *line)
{
  g_autofree char *whole = g_strconcat ("shedwalk ", line, NULL);
  char **words = NULL;

  assert_true (g_shell_parse_argv (whole, NULL, &words, NULL));
  for (char **word = words; *word != NULL; word++)
    if (strcmp (*word, "CAT") == 0)
      {
        g_free (*word);
        *word = g_strdup (STATEMENT_CATALOGUE);
      }
  return words;
}

/* The walk's photos are files of one byte, with that byte's fingerprint. */
static void
give_photos_bytes (SwTestWalk *walk)
{
  for (int i = 1; i <= walk->n; i++)
    {
      g_autofree char *text = g_strdup_printf ("%d", i);
      g_autofree char *hash = sw_test_hash (text);
      g_autofree char *stored = g_strdup_printf ("photos/trip-03/P%04d.jpg", i);
      g_autofree char *sql = g_strdup_printf (
          "UPDATE photo SET stored = '%s', size = %zu, hash = '%s' WHERE id = %d", stored,
          strlen (text), hash, i);
      sw_test_write (STATEMENT_CATALOGUE, stored, text);
      sw_test_exec (walk->bed.catalogue, sql);
    }
}

static void
do_command (const char *line)
{
  g_auto (GStrv) words = statement_words (line);
  g_autoptr (GBytes) said = NULL, complained = NULL;

  if (in_turn_run (words, &said, &complained) == 0)
    return;
  print_error ("%s: %.*s\n", line, (int)g_bytes_get_size (complained),
               (const char *)g_bytes_get_data (complained, NULL));
  fail ();
}

static void
make (void)
{
  g_autoptr (GError) error = NULL;
  SwTestWalk walk = { 0 };

  in_turn_opened = stop_the_clock;
  walk.bed.catalogue
      = sw_catalogue_create (STATEMENT_CATALOGUE, "Cider works", "NZD", "Pacific/Auckland", &error);
  assert_no_error (error);
  stop_the_clock (walk.bed.catalogue);
  sw_test_add_property (walk.bed.catalogue);
  sw_test_walk_begin (&walk);
  sw_test_walk_three_things (&walk, 0);
  give_photos_bytes (&walk);
  sw_catalogue_close (walk.bed.catalogue);
  sw_test_write (".", "walk.txt", THREE_NOTES);
  sw_test_write (".", "more-notes.csv", more_notes);
  sw_test_write (".", "money.csv", money_table);
  sw_test_write (".", "more-money.csv", more_money);
  sw_test_write (".", "docket.csv", docket_table);
  sw_test_write (".", "statement.csv", statement_table);
  sw_test_write (".", "answers.txt", answers_text);
  for (gsize i = 0; i < G_N_ELEMENTS (made_by); i++)
    do_command (made_by[i]);
  enter_the_rest (in_turn_hold (STATEMENT_CATALOGUE, &error));
  assert_no_error (error);
}

void
statement_bed_open (StatementBed *bed)
{
  bed->outside = g_get_current_dir ();
  bed->folder = g_dir_make_tmp ("bed-XXXXXX", NULL);
  assert_non_null (bed->folder);
  assert_int_equal (g_chdir (bed->folder), 0);
  sw_takings_register_check ();
  make ();
}

void
statement_bed_close (StatementBed *bed)
{
  in_turn_let_go ();
  assert_int_equal (g_chdir (bed->outside), 0);
  sw_test_remove_tree (bed->folder);
  g_free (bed->folder);
  g_free (bed->outside);
}
