/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Statements of the setting records: X (TAG, "SQL"). Private to core/catalogue. */
#pragma once

#define SW_SETTING_STATEMENTS(X)
