/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether all that a catalogue says is there, is there and unchanged. Catalogue layer. */
#pragma once

#include "core/catalogue/catalogue.h"

G_BEGIN_DECLS

typedef struct
{
  GPtrArray *faults;  /* sentences: each names what is wrong and with what */
  GPtrArray *remarks; /* sentences: half-done work of an open bring-in and the like; no faults */
  gint64 photos, items, sums; /* how many were looked at */
} SwCheckReport;
void sw_check_report_clear (SwCheckReport *report);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (SwCheckReport, sw_check_report_clear)

/* For the checks of the layers above: a sentence into the report, made safe to print. */
void sw_check_fault (SwCheckReport *report, const char *format, ...) G_GNUC_PRINTF (2, 3);
void sw_check_remark (SwCheckReport *report, const char *format, ...) G_GNUC_PRINTF (2, 3);

/* A check of a layer above (sums): adds its findings and counts to the report; FALSE only where it could not look.
 * Registered once at the start of the program, before threads; the same name again replaces. 'name' must outlive the program. */
typedef gboolean (*SwCheckFunc) (SwCatalogue *catalogue, GCancellable *cancellable,
                                 SwCheckReport *report, GError **error);
void sw_check_register (const char *name, SwCheckFunc check);

/* integrity_check, foreign_key_check, every photo present, of its size and hash, no file without a row (while a bring-in is open that is
 * half-done work), states and links sound; and every check registered by the layers above (sums). TRUE when it ran
 * through, whatever it found. */
gboolean sw_check_run (SwCatalogue *catalogue, GCancellable *cancellable, SwCheckReport *out_report,
                       GError **error);

G_END_DECLS
