/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Schema step of the gaps that a person joined or cut: between which two photos. 'photo' was the
 * later one when it was said; where a clock is put right afterwards it may be the earlier one.
 * NULL: said before this was kept, of whichever photo came before. Private to core/catalogue. */
#pragma once

#define SW_SCHEMA_GAPS "ALTER TABLE photo_cut ADD COLUMN beside INTEGER REFERENCES photo (id);\n"
