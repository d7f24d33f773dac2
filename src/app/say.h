/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What each kind of saying does on the catalogue thread. No widget: that is say-form.h. */
#pragma once

#include "app/say-kinds.h"
#include "app/store.h"

G_BEGIN_DECLS

/* One saying on its way. Counted: the form reads 'id' once it is done. */
typedef struct
{
  gatomicrefcount count;
  SwSayKind kind;
  gint64 item, id; /* id: the row that is changed, 0: a new one; set by the act */
  gint64 *items;   /* of several */
  guint n_items;
  char *values[SW_SAY_FIELDS]; /* one a field; "" for nothing */
} SwSay;
SwSay *sw_say_new (SwSayKind kind, gint64 item, gint64 id);
SwSay *sw_say_ref (SwSay *say);
void sw_say_unref (gpointer say);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SwSay, sw_say_unref)

/* Sends it as one act; 'done' as in sw_store_act. */
void sw_say_send (SwStore *store, SwSay *say, GObject *owner, SwActDone done);
/* Withdraws the row 'id' of a kind that can be withdrawn. */
void sw_say_withdraw (SwStore *store, SwSayKind kind, gint64 id);

G_END_DECLS
