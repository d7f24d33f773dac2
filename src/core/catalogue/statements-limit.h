/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of what texts keep to before they leave: X (TAG, "SQL"). Private to core/catalogue. */
#pragma once

#define SW_LIMIT_STATEMENTS(X)                                                                     \
  X (TEXT_LIMIT_GET, "SELECT title, body FROM text_limit WHERE outlet = ?1")                       \
  X (TEXT_LIMIT_PUT, "INSERT INTO text_limit (outlet, title, body) VALUES (?1, ?2, ?3)"            \
                     " ON CONFLICT (outlet) DO UPDATE SET title = ?2, body = ?3")                  \
  X (NAMES_KEPT, "SELECT who FROM (SELECT person AS who FROM question"                             \
                 " UNION SELECT answered_by FROM question UNION SELECT by_whom FROM fact"          \
                 " UNION SELECT person FROM claim UNION SELECT name FROM person)"                  \
                 " WHERE coalesce(who, '') <> '' ORDER BY who")
