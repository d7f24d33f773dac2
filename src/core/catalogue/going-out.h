/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a text must keep to before it leaves the house: how long an outlet lets it be, and the names
 * that stay at home. Records of the catalogue layer. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

#define SW_TITLE_LIMIT_MOST 1000
#define SW_TEXT_LIMIT_MOST 100000

typedef struct
{
  gint64 title, text; /* characters; 0: no limit */
} SwTextLimits;

/* No limits where none were set, or outlet is 0. */
gboolean sw_text_limits_get (SwCatalogue *catalogue, gint64 outlet, SwTextLimits *out_limits,
                             GError **error);
/* An act. BAD_INPUT: below zero or beyond the most; NOT_FOUND: no such outlet. The same again
 * changes nothing. */
gboolean sw_text_limits_set (SwCatalogue *catalogue, gint64 outlet, const SwTextLimits *limits,
                             GError **error);

/* Whoever is named anywhere in the catalogue: family, buyers, who told something. GPtrArray of
 * char * by name. Transfer full. */
GPtrArray *sw_names_kept (SwCatalogue *catalogue, GError **error);
/* Those of them that stand in the text as words of their own, without case. Transfer full. */
GPtrArray *sw_names_in_text (const GPtrArray *names, const char *text);

G_END_DECLS
