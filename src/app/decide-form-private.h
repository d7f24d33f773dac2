/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The body of the form, for decide-form.c (values, sending, keys), decide-rows.c (its widgets and
 * what typing is completed from) and decide-offers.c (what is offered beside a field) alone. */
#pragma once

#include "app/decide-form.h"

G_BEGIN_DECLS

#define NO_FIELD (-1)

typedef struct
{
  const char *label; /* its mnemonic is its key, in each language its own */
  gboolean as_typed; /* saved while it is typed; else with Enter */
  gboolean sourced;
  gboolean added; /* each entry adds one to what stands there */
} SwDecideSpec;
extern const SwDecideSpec sw_decide_specs[SW_N_DECIDE_FIELDS];

typedef struct
{
  GtkWidget *entry, *note, *standing;
  GPtrArray *words;     /* what typing is completed from */
  SwDecideValue seen;   /* what the person was shown when they began to change it */
  SwDecideValue latest; /* as last read */
  char *shown;          /* the text of 'seen' */
  char *source, *by;    /* of what is said here next */
  gboolean sent;        /* something is on its way: 'seen' is what it will be */
} SwDecideRow;

struct _SwDecideForm
{
  GtkBox parent;
  SwStore *store;
  const SwDecideData *data;
  gint64 item;
  SwDecideRow fields[SW_N_DECIDE_FIELDS];
  int current; /* the field with the keyboard */
  GtkWidget *grid, *choices, *sources, *hint, *teller_row, *teller;
  int telling;                    /* the field whose teller is asked for */
  GtkEntryCompletion *completion; /* of the field with the keyboard: each that has one measures it
                                     whenever it is laid out */
  guint timer;
  guint offering; /* what is offered will be shown before the window is laid out again */
  gboolean filling;
};

/* decide-form.c */
gboolean sw_decide_form_is_writable (SwDecideForm *self);
const char *sw_decide_form_text_of (SwDecideForm *self, int field);
/* What the value reads as. Transfer full. */
char *sw_decide_form_value_text (SwDecideForm *self, int field, const SwDecideValue *value);
/* What is typed; FALSE with the reason where it cannot be read. */
gboolean sw_decide_form_read_field (SwDecideForm *self, int field, SwDecideValue *out,
                                    char **out_why);
void sw_decide_form_send (SwDecideForm *self, int field, const SwDecideValue *value);
/* As if it had been read: nothing is sent. */
void sw_decide_form_set_text (SwDecideForm *self, int field, const char *text);
void sw_decide_form_go_to (SwDecideForm *self, int field);
/* To the field after it, or done. */
void sw_decide_form_go_on (SwDecideForm *self, int from);

/* decide-rows.c */
/* The letter that goes to the field, in lower case. */
gunichar sw_decide_form_key_of (int field);
/* Label, entry and what stands beside; no handlers. */
void sw_decide_form_add_row (SwDecideForm *self, int field);
void sw_decide_form_add_teller (SwDecideForm *self);
GtkWidget *sw_decide_form_new_label (const char *class);
GtkWidget *sw_decide_form_new_flow (const char *name);
GtkEntryCompletion *sw_decide_form_new_completion (void);
/* The completion goes where the keyboard goes; NO_FIELD: nowhere. */
void sw_decide_form_complete_in (SwDecideForm *self, int field);
void sw_decide_form_keep_words (SwDecideForm *self, int field);

/* decide-offers.c */
/* Shown once, in a turn of its own. */
void sw_decide_form_fill_choices (SwDecideForm *self);
void sw_decide_form_show_note (SwDecideForm *self, int field);
/* Takes the word with that number, and goes on. */
void sw_decide_form_pick (SwDecideForm *self, int field, guint which);
/* What the find before said: here, or between the fields all that is empty. */
void sw_decide_form_as_before (SwDecideForm *self);
void sw_decide_form_take_teller (SwDecideForm *self, const char *name);
void sw_decide_form_end_telling (SwDecideForm *self);

G_END_DECLS
