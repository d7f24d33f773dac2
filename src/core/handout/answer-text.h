/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The family's answers as text: the small file that the family choice makes, the same as one pasted
 * line, and what was dictated by number. Handout layer; knows no catalogue.
 *
 * The format, version 1. UTF-8 (or UTF-16 with its mark); fields are parted by line breaks or by
 * semicolons; blanks around a field, and '>' before it (a quoted message), do not count.
 *
 *     shedwalk answers 1              the first field; what stands before it is skipped
 *     catalogue 0b6c...               the id of the catalogue asked about (a UUID); must be there
 *     at 2026-05-01T08:30:00Z         when they were given (ISO 8601); may be missing
 *     by Ruth                         whose they are; may be missing
 *     12 mine: the one with the blue wheel
 *     14 keep                         mine, keep, sell or unsure (don't know), then a remark
 *     15: its lid is in the loft      a remark alone
 *     q7: Before the war, I think     the answer to question 7
 *
 * In remarks and answers %3B stands for a semicolon, %0A for a line break, %25 for '%'; any other
 * '%' stands for itself. Without the first field the text is dictated: only lines of the last four
 * kinds, parted by commas too where a number and its word follow ('12 mine, 14 keep'). */
#pragma once

#include "core/catalogue/answers.h"

G_BEGIN_DECLS

/* Longest text that is taken, in bytes, and most answers in it. */
#define SW_ANSWER_TEXT_MAX 2000000
#define SW_ANSWERS_MAX 20000

/* A time without an offset is one of the zone. Transfer full. Errors: BAD_INPUT naming the line,
 * NEWER_SCHEMA (a later version). */
SwAnswers *sw_answer_text_parse (GBytes *bytes, const SwZone *zone, GError **error);
/* A file, a pipe or a device: no more is read than is taken. */
SwAnswers *sw_answer_text_read (const char *path, const SwZone *zone, GError **error);

G_END_DECLS
