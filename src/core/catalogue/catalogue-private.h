/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The body of a catalogue, for catalogue.c, db.c, act.c, undo.c, schema.c, backup.c and check.c
 * alone. */
#pragma once

#include "core/catalogue/act.h"
#include "core/catalogue/db.h"
#include "core/catalogue/folder.h"

G_BEGIN_DECLS

#define SW_PHOTOS_NAME "photos"
#define SW_BACKUPS_NAME "backups"
/* What a half-written file is called until it is whole: NAME.part. */
#define SW_PART_SUFFIX ".part"

struct _SwCatalogue
{
  char *folder;          /* absolute, links resolved */
  guint64 device, inode; /* of the folder when it was opened: a moved one is noticed */
  gboolean read_only;
  char *name, *author;
  SwCurrency currency;
  SwZone *zone;
  SwClockFunc clock;
  gpointer clock_data;
  SwChangedFunc changed;
  gpointer changed_data;

  sqlite3 *db;
  sqlite3_stmt *statements[SW_N_STATEMENTS];
  gboolean in_use[SW_N_STATEMENTS];
  gint64 data_version;

  /* the act that is open: level 0 is none */
  int level;
  int plain_level; /* the level at which a plain one began, 0: none */
  gint64 act_id;   /* 0 in a plain one */
  gint64 changes_before;
  sqlite3_session *session;
  GHashTable *tables; /* interned names of the tables written since the outermost begin */
  GHashTable *items_written, *places_written; /* row numbers, for the search */
};

/* db.c */
/* Opens the file with every pragma of ours; does not look at what is in it. */
gboolean sw_db_open_file (const char *path, gboolean read_only, sqlite3 **out_db, GError **error);
gboolean sw_db_exec (sqlite3 *db, const char *sql, const char *what, GError **error);
/* First column of the first row, 0 without one; for pragmas and what runs before the statements are
 * prepared. */
gboolean sw_db_ask_int (sqlite3 *db, const char *sql, const char *what, gint64 *out_value,
                        GError **error);
gboolean sw_db_prepare_all (SwCatalogue *catalogue, GError **error);
void sw_db_finalize_all (SwCatalogue *catalogue);
/* Transaction statements, which need no act around them. The SQLite code. */
int sw_db_control (SwCatalogue *catalogue, SwStatementId id);

/* backup.c */
/* Names of the safety copies in the folder, in the order of making: they begin with the time. Half
 * ones are none. Transfer full. */
GPtrArray *sw_backup_names (const char *folder);
/* For g_ptr_array_sort: byte order. */
int sw_backup_compare_names (gconstpointer a, gconstpointer b);
/* A whole copy by the online backup into a new file, checked and flushed. On failure the file may
 * be left: the caller removes it. */
gboolean sw_db_copy_to (sqlite3 *from, const char *path, const char *what, GError **error);
/* integrity_check; DAMAGED where it finds anything. */
gboolean sw_db_is_sound (sqlite3 *db, const char *what, GError **error);

/* schema.c */
/* Takes the steps still missing, each in a transaction of its own and after a backup (but for an
 * empty database). */
gboolean sw_schema_bring_up (SwCatalogue *catalogue, GError **error);

/* act.c */
/* Ends the open outermost act: 'kind' and the rest into its row, changeset stored where
 * 'with_changes'. */
gboolean sw_act_commit_as (SwAct *act, const char *kind, const char *sentence, gint64 bring_in,
                           gint64 refers, gboolean with_changes, GError **error);

/* catalogue.c */
/* Settings: NULL without error where there is none. Transfer full. */
char *sw_setting_get (SwCatalogue *catalogue, const char *key, GError **error);
/* Within an act of the caller's or a plain one of its own. */
gboolean sw_setting_put (SwCatalogue *catalogue, const char *key, const char *value,
                         GError **error);
/* The rules for a new catalogue's folder: its name, and that nothing is there but an empty folder
 * at most. */
gboolean sw_folder_check_new (const char *folder, GError **error);

G_END_DECLS
