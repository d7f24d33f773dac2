/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of the family's answers: X (TAG, "SQL"). Private to core/catalogue. */
#pragma once

/* ?1 item, ?2 question (0: none), ?3 person */
#define SW_ANSWER_OF_PERSON                                                                        \
  " FROM answer WHERE item = ?1 AND coalesce(question, 0) = ?2 AND person = ?3"

#define SW_ANSWER_STATEMENTS(X)                                                                    \
  X (ANSWER_INSERT, "INSERT INTO answer (item, question, person, says, text, at_us, told_us)"      \
                    " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)")                                        \
  /* the newest; a remark alone takes back nothing that was said. ?4 says */                       \
  X (ANSWER_LATEST, "SELECT says, text, at_us" SW_ANSWER_OF_PERSON                                 \
                    " AND (says = '') = (?4 = '') ORDER BY at_us DESC, id DESC LIMIT 1")           \
  X (ANSWER_SAME,                                                                                  \
     "SELECT count(*)" SW_ANSWER_OF_PERSON " AND says = ?4 AND text = ?5 AND at_us = ?6")          \
  X (ANSWER_LIST,                                                                                  \
     "SELECT a.id, a.item, coalesce(a.question, 0), a.person, a.says, a.text, a.at_us, i.name,"    \
     " pl.path, q.text,"                                                                           \
     " row_number() OVER (PARTITION BY a.item, a.question, a.person, a.says = ''"                  \
     "   ORDER BY a.at_us DESC, a.id DESC) = 1"                                                    \
     " FROM answer a JOIN item i ON i.id = a.item JOIN place pl ON pl.id = i.place"                \
     " LEFT JOIN question q ON q.id = a.question"                                                  \
     " WHERE ?1 = 0 OR a.item = ?1 ORDER BY a.item, a.at_us, a.id")
