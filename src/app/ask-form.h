/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A small window of labelled fields drawn from a table. It never blocks; it stays open until the
 * act was taken, and says why where it was refused. */
#pragma once

#include <gtk/gtk.h>

#include "app/say.h"
#include "app/store.h"

G_BEGIN_DECLS

/* Most fields of a form. */
#define SW_ASK_FIELDS 12

typedef struct
{
  SwFieldKind kind; /* TEXT, LONG, MONEY, CHOICE, CHECK; END after the last */
  const char *label, *hint;
  const char *const *choices; /* CHOICE: static words, NULL-terminated; NULL: see SwAsk */
} SwAskField;

typedef struct
{
  const char *title, *button; /* button with its mnemonic */
  SwAskField fields[SW_ASK_FIELDS + 1];
} SwAskSpec;

/* Sends the act: 'values' one a field, as typed and trimmed; MONEY as plain decimal or "", CHECK
 * "1" or "". Hands owner and done on to sw_store_try. */
typedef void (*SwAskSend) (SwStore *store, char **values, gpointer data, GObject *owner,
                           SwTryDone done);

/* Told after each change of a field, and once at the start, to say in 'below' what would come of
 * it; values as with SwAskSend, NULL while one of them cannot be read. */
typedef void (*SwAskFollow) (SwStore *store, char **values, gpointer data, GtkWidget *below);

typedef struct
{
  const SwAskSpec *spec;      /* static */
  const char *const *begun;   /* one a field, NULL for none; NULL: all empty */
  const char *const *choices; /* of CHOICE fields without their own; copied */
  GtkWidget *above;           /* over the fields; floating; NULL: nothing */
  GtkWidget *below;           /* under the fields, scrolled with them; floating; NULL: nothing */
  SwAskFollow follow;         /* with 'below' */
  SwAskSend send;
  gpointer data;
  GDestroyNotify destroy; /* of data */
} SwAsk;
/* The window shown, transfer none. */
GtkWidget *sw_ask_form_show (GtkWindow *parent, SwStore *store, const SwAsk *ask);
/* What the CHOICE field stands at now, in the window of a form; NULL: nothing. For the form alone.
 */
const char *sw_ask_form_choice (GtkWidget *window, guint field);

G_END_DECLS
