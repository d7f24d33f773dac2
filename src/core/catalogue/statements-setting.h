/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of settings and of the connection itself: X (TAG, "SQL"). Private to core/catalogue. */
#pragma once

#define SW_SETTING_STATEMENTS(X)                                                                   \
  X (SETTING_GET, "SELECT value FROM setting WHERE key = ?1")                                      \
  X (SETTING_PUT, "INSERT INTO setting (key, value) VALUES (?1, ?2)"                               \
                  " ON CONFLICT (key) DO UPDATE SET value = excluded.value")                       \
  X (SETTING_DATA_VERSION, "PRAGMA data_version")
