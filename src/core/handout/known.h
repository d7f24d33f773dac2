/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is known of an item, in lines for whoever reads a hand-out: a guess is named as one, hearsay
 * too, without who said it. Handout layer. */
#pragma once

#include "core/catalogue/facts.h"

G_BEGIN_DECLS

/* 'line' in the person's language, with the text in place of its "%s". Transfer full. */
char *sw_known_line (const char *line, const char *text);

/* A line (char *) for each fact of that kind; facts as sw_fact_list gives them. */
void sw_known_add_facts (GPtrArray *lines, const GPtrArray *facts, const char *kind,
                         const char *line);
/* One line with the sides that are known; none where none is. */
void sw_known_add_size (GPtrArray *lines, const SwItem *item);
/* "Danger: old wiring" for each. */
void sw_known_add_dangers (GPtrArray *lines, const GPtrArray *facts);

G_END_DECLS
