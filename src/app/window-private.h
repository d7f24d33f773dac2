/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The body of the window, for window.c, window-pages.c, window-views.c and window-actions.c alone.
 */
#pragma once

#include "app/bring-in-view.h"
#include "app/columns.h"
#include "app/decide-view.h"
#include "app/set-up-page.h"
#include "app/start-page.h"
#include "app/takings-panel.h"
#include "app/window.h"
#include "core/base/language.h"

G_BEGIN_DECLS

struct _SwWindow
{
  GtkApplicationWindow parent;
  SwStore *store;
  SwPictures *pictures;
  GtkWidget *header, *help, *back, *undo, *redo, *views, *spinner, *switcher, *pages, *start, *bar,
      *line, *line_undo, *set_up, *bring_in;
  GtkWidget *over, *closer, *round;
  GtkWidget *menu_button;
  GMenuModel *menu;                   /* the template's */
  const char *closer_over;            /* what it lies over: the pages or the round */
  GWeakRef closer_from, closer_owner; /* what had the focus before; who asked to look closer */
  SwClosedCloser closed;
  GtkWidget *line_icon, *catalogue, *panel_button, *panel_total, *panel;
  gboolean has_pages; /* a catalogue is open and its pages are made */
  guint back_idle, pages_idle, spinner_wait, frame_wait;
};

/* window.c: no catalogue, and why (NULL: none was asked for). */
void sw_window_show_start (SwWindow *self, const char *problem);

/* window-pages.c. Holders for the pages of the catalogue that has opened; each page is made when it
 * is shown, or when there is nothing else to do. */
void sw_window_add_pages (SwWindow *self);
/* The page that is seen is made, and what hangs on it follows. */
void sw_window_follow_page (SwWindow *self);
/* Of the page that is seen; NULL: it has none that fold. */
SwColumns *sw_window_page_columns (SwWindow *self);
/* Whether there is a way back, once sizes are given out. */
void sw_window_follow_back (SwWindow *self);
/* A look at a folder that was left for another page is what "Photos in" shows. */
void sw_window_take_up_look (SwWindow *self);

/* window-views.c. Each made when it is first asked for. */
SwSetUpPage *sw_window_set_up_page (SwWindow *self);
SwBringInView *sw_window_bring_in_view (SwWindow *self);
SwDecideView *sw_window_round_view (SwWindow *self);
SwTakingsPanel *sw_window_takings_panel (SwWindow *self);
SwStartPage *sw_window_start_page (SwWindow *self);
/* Those that are there follow the catalogue: the open one, or none. */
void sw_window_give_store (SwWindow *self);
/* "start", "opening", "set-up", "bring-in" or "catalogue"; what lies over the pages is left. */
void sw_window_show_view (SwWindow *self, const char *name);
gboolean sw_window_is_closer (SwWindow *self);
gboolean sw_window_is_round (SwWindow *self);

/* window-actions.c */
void sw_window_add_actions (SwWindow *self);
void sw_window_enable (SwWindow *self, const char *action, gboolean enabled);
/* The menu takes as long to make as it takes to draw a page: after the first frame, or when it is
 * asked for. */
void sw_window_give_menu (SwWindow *self);
/* FALSE, and said so, while photos are coming in. */
gboolean sw_window_may_bring_in (SwWindow *self);

G_END_DECLS
