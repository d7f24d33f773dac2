/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Notes files: what is read from every shape of them, what is refused and how it is said. */
#include "sw-test-catalogue.h"

#include "core/catalogue/items.h"
#include "core/catalogue/notes.h"
#include "core/catalogue/trips.h"
#include "core/match/notes.h"

typedef struct
{
  const char *label;
  const char *text;
  gssize length;    /* 0: up to the first zero byte */
  const char *dump; /* what the trip holds: "day hh:mm:ss/res place|what|count|remark;" a note */
  int items, bad_line;
} Row;

/* "PK" after the first byte: UTF-16 with its mark. */
#define UTF16 "\xff\xfet\0i\0m\0e\0,\0p\0l\0a\0c\0e\0\n\0001\0000\0:\0004\0002\0,\0L\0o\0f\0t\0\n\0"

static const Row rows[] = {
  { "table, any order",
    "item,time,count,place,remark\nscrew press,10:42,2,Packing shed,handle bent\n", 0,
    "20 10:42:00/60 Packing shed|screw press|2|handle bent;", 1, 0 },
  { "table with a byte order mark and semicolons",
    "\xef\xbb\xbftime;place;item\r\n10:42:07;Packing shed;crates\r\n", 0,
    "20 10:42:07/1 Packing shed|crates|0|;", 1, 0 },
  { "table with tabs and no remark", "Time\tPlace\tItem\n9:05\tLoft\tladder\n", 0,
    "20 09:05:00/60 Loft|ladder|0|;", 1, 0 },
  { "UTF-16", UTF16, sizeof UTF16 - 1, "20 10:42:00/60 Loft||0|;", 0, 0 },
  { "a quoted heading", "\"time\",\"place\",\"item\"\n10:42,Loft,rope\n", 0,
    "20 10:42:00/60 Loft|rope|0|;", 1, 0 },
  { "plain: a colon behind the time, lines of another system",
    "10:42: Loft: ladder\r\n10:43: Loft: rope\r\n", 0,
    "20 10:42:00/60 Loft|ladder|0|;20 10:43:00/60 Loft|rope|0|;", 2, 0 },
  { "quoted line break",
    "time,place,item,remark\n10:42,Loft,ladder,\"two rungs\nare gone\"\n10:50,Loft,basket,\n", 0,
    "20 10:42:00/60 Loft|ladder|0|two rungs\nare gone;20 10:50:00/60 Loft|basket|0|;", 2, 0 },
  { "a place alone", "time,place,item\n10:42,Cold store,\n", 0, "20 10:42:00/60 Cold store||0|;", 0,
    0 },
  { "moments with and without a zone",
    "time,place,item\n2026-06-21T10:42,Loft,ladder\n2026-06-21T10:50:30+12:00,Loft,basket\n2026-06-"
    "20T23:00:00Z,Loft,rope\n",
    0, "21 10:42:00/60 Loft|ladder|0|;21 10:50:30/1 Loft|basket|0|;21 11:00:00/1 Loft|rope|0|;", 3,
    0 },
  { "past midnight", "time,place,item\n17:30,Loft,ladder\n16:00,Loft,basket\n09:10,Loft,rope\n", 0,
    "20 16:00:00/60 Loft|basket|0|;20 17:30:00/60 Loft|ladder|0|;21 09:10:00/60 Loft|rope|0|;", 3,
    0 },
  { "plain: place and item", "10:42 Packing shed: screw press x2, handle bent\n10:55 Cold store\n",
    0, "20 10:42:00/60 Packing shed|screw press|2|handle bent;20 10:55:00/60 Cold store||0|;", 1,
    0 },
  { "plain: parts",
    "10:42:10 Packing shed > Loft; crates; 12; two are cracked\n10:44, Press house, tub, well "
    "made\n",
    0,
    "20 10:42:10/1 Packing shed > Loft|crates|12|two are cracked;20 10:44:00/60 Press "
    "house|tub|0|well made;",
    2, 0 },
  { "plain: a day's line",
    "# the second day\n2026-06-21\n10:42 Loft: 3 x ladder\n2026-06-22 08:00 Loft: rope\n", 0,
    "21 10:42:00/60 Loft|ladder|3|;22 08:00:00/60 Loft|rope|0|;", 2, 0 },
  { "without a place: where the one before was",
    "time,place,item\n10:42,Loft,ladder\n10:44,,basket\n", 0,
    "20 10:42:00/60 Loft|ladder|0|;20 10:44:00/60 Loft|basket|0|;", 2, 0 },
  { "the same item twice is one",
    "10:42 Loft: ladder\n10:58 Loft: Ladder\n10:59 Cold store: ladder\n", 0,
    "20 10:42:00/60 Loft|ladder|0|;20 10:58:00/60 Loft|Ladder|0|;20 10:59:00/60 Cold "
    "store|ladder|0|;",
    2, 0 },
  { "a bad time among good ones",
    "time,place,item\n10:42,Loft,ladder\n25:00,Loft,basket\n10:50,Loft,rope\n", 0,
    "20 10:42:00/60 Loft|ladder|0|;20 10:50:00/60 Loft|rope|0|;", 2, 3 },
  { "a bad count", "time,place,item,count\n10:42,Loft,ladder,two\n10:43,Loft,rope,1\n", 0,
    "20 10:43:00/60 Loft|rope|1|;", 1, 2 },
  { "no place at all", "time,place,item\n10:42,,ladder\n10:43,Loft,rope\n", 0,
    "20 10:43:00/60 Loft|rope|0|;", 1, 2 },
  { "a day where a time belongs", "time,place,item\n2026-06-20,Loft,ladder\n10:43,Loft,rope\n", 0,
    "20 10:43:00/60 Loft|rope|0|;", 1, 2 },
  { "escape codes in a name", "time,place,item\n10:42,Loft,\x1b[31mladder\n10:43,Loft,rope\n", 0,
    "20 10:43:00/60 Loft|rope|0|;", 1, 2 },
  { "a line without a time", "10:42 Loft: ladder\nthen the rope\n", 0,
    "20 10:42:00/60 Loft|ladder|0|;", 1, 2 },
};

static gint64
add_trip (SwCatalogue *catalogue)
{
  gint64 trip = 0;
  g_autoptr (GError) error = NULL;

  sw_trip_add (catalogue, "Second walk", sw_day_from_ymd (2026, 6, 20),
               sw_day_from_ymd (2026, 6, 22), &trip, &error);
  assert_no_error (error);
  return trip;
}

static SwNotesReport *
read_text (SwCatalogue *catalogue, gint64 trip, const char *text, gssize length, gboolean strict,
           GError **error)
{
  g_autoptr (GBytes) bytes = g_bytes_new (text, length ? (gsize)length : strlen (text));
  SwNotesReport *report = NULL;

  return sw_notes_read_bytes (catalogue, trip, bytes, "walk.csv", strict, &report, error) ? report
                                                                                          : NULL;
}

static char *
dump_notes (SwCatalogue *catalogue, gint64 trip)
{
  g_autoptr (GPtrArray) notes = sw_note_list (catalogue, trip, NULL);
  GString *text = g_string_new (NULL);

  for (guint k = 0; k < notes->len; k++)
    {
      const SwNote *note = g_ptr_array_index (notes, k);
      SwCivil at = sw_civil_from_instant (note->at, sw_catalogue_zone (catalogue), NULL);

      g_string_append_printf (text, "%d %02d:%02d:%02d/%d %s|%s|%d|%s;", at.day, at.hour, at.minute,
                              at.second, note->resolution_s, note->place_path, note->what,
                              (int)note->count, note->remark);
    }
  return g_string_free (text, FALSE);
}

static void
test_rows (void **state)
{
  const Row *row = *state;
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  gint64 trip = add_trip (bed.catalogue);
  g_autoptr (GError) error = NULL;
  g_autoptr (SwNotesReport) report
      = read_text (bed.catalogue, trip, row->text, row->length, FALSE, &error);
  g_autofree char *dump = NULL;

  assert_no_error (error);
  dump = dump_notes (bed.catalogue, trip);
  assert_string_equal (dump, row->dump);
  assert_i64_equal (report->items_added, row->items);
  g_autoptr (GPtrArray) items = sw_item_list (bed.catalogue, NULL, NULL);
  assert_i64_equal (items->len, row->items);
  assert_i64_equal (report->remarks->len, row->bad_line > 0);
  if (row->bad_line > 0)
    {
      const SwNotesRemark *remark = g_ptr_array_index (report->remarks, 0);

      assert_i64_equal (remark->line, row->bad_line);
      assert_true (g_str_has_suffix (remark->text, "."));
      assert_null (strchr (remark->text, '\x1b'));
    }
  /* Reading it again adds nothing. */
  g_autoptr (SwNotesReport) again
      = read_text (bed.catalogue, trip, row->text, row->length, FALSE, &error);
  assert_no_error (error);
  assert_i64_equal (again->notes_added, 0);
  assert_i64_equal (again->items_added, 0);
  assert_i64_equal (again->already_there, report->notes_added);
  assert_i64_equal (again->places_made->len, 0);
  g_autofree char *same = dump_notes (bed.catalogue, trip);
  assert_string_equal (same, row->dump);
  /* Strict: a bad row keeps all of them out, and is named. */
  if (row->bad_line > 0)
    {
      gint64 other = 0;

      sw_trip_add (bed.catalogue, "Third walk", sw_day_from_ymd (2026, 8, 1),
                   sw_day_from_ymd (2026, 8, 2), &other, NULL);
      assert_null (read_text (bed.catalogue, other, row->text, row->length, TRUE, &error));
      assert_sw_error (error, SW_ERROR_BAD_INPUT);
      g_autofree char *line = g_strdup_printf ("Line %d:", row->bad_line);
      assert_contains (error->message, line);
      g_autofree char *none = dump_notes (bed.catalogue, other);
      assert_string_equal (none, "");
    }
}

typedef struct
{
  const char *label, *text;
  gssize length;
  const char *part;
} Refusal;

static const Refusal refusals[] = {
  { "nothing", "", 0, "holds no note" },
  { "blank lines", "\n\n  \n", 0, "holds no note" },
  { "only a comment", "# nothing yet\n", 0, "holds no note" },
  { "no row understood", "hello there\n", 0, "Line 1:" },
  { "a table without a place", "time,what\n10:42,ladder\n", 0, "one of 'place' and 'item'" },
  { "zero bytes", "10:42 Loft\0: ladder\n", 20, "holds a zero byte" },
  { "a zero character in UTF-16",
    "\xff\xfe"
    "1\0"
    "\0\0"
    "x\0",
    8, "is not UTF-16 text" },
  { "broken UTF-8", "time,place,item\n10:42,Lo\xff\xfe,ladder\n", 0, "" },
};

static void
test_refusals (void **state)
{
  const Refusal *row = *state;
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  gint64 trip = add_trip (bed.catalogue);
  g_autoptr (GError) error = NULL;

  assert_null (read_text (bed.catalogue, trip, row->text, row->length, FALSE, &error));
  assert_sw_error (error, SW_ERROR_BAD_INPUT);
  assert_contains (error->message, row->part);
  assert_i64_equal (
      sw_test_ask (bed.catalogue,
                   "SELECT (SELECT count (*) FROM field_note) + (SELECT count (*) FROM place)"),
      0);
}

static void
test_unknown_trip_and_file (void **state)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  g_autoptr (GError) error = NULL;
  SwNotesReport *report = NULL;

  assert_null (read_text (bed.catalogue, 7, "10:42 Loft\n", 0, FALSE, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
  g_clear_error (&error);
  assert_false (sw_notes_read (bed.catalogue, add_trip (bed.catalogue), "/nowhere/notes.csv", FALSE,
                               &report, &error));
  assert_sw_error (error, SW_ERROR_NOT_FOUND);
}

static void
test_one_act (void **state)
{
  g_auto (SwTestBed) bed = sw_test_bed_new ();
  gint64 trip = add_trip (bed.catalogue);
  g_autoptr (GError) error = NULL;
  g_autoptr (SwNotesReport) report = read_text (
      bed.catalogue, trip, "10:42 Loft: ladder, worm\n10:50 Press house: tub\n", 0, FALSE, &error);

  assert_no_error (error);
  assert_i64_equal (report->places_made->len, 2);
  assert_string_equal (g_ptr_array_index (report->places_made, 1), "Press house");
  assert_i64_equal (
      sw_test_ask (bed.catalogue,
                   "SELECT count (*) FROM fact WHERE text = 'worm' AND source = 'seen'"),
      1);
  sw_test_undo (bed.catalogue, "2 notes of trip 1 read, 2 items found");
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM item"), 0);
  assert_i64_equal (sw_test_ask (bed.catalogue, "SELECT count (*) FROM field_note"), 0);
}

int
main (void)
{
  SwTests *tests = sw_tests_new ();

  SW_TEST_ROWS (tests, test_rows, rows);
  SW_TEST_ROWS (tests, test_refusals, refusals);
  SW_TEST (tests, test_unknown_trip_and_file);
  SW_TEST (tests, test_one_act);
  return sw_tests_run (tests, "notes");
}
