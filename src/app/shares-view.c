/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shows the account and takes shares and entries. No sums: every figure is core/trade's. */
#include "app/shares-view.h"

#include "app/clock.h"
#include "app/text.h"
#include "app/typed-day.h"
#include "app/widgets.h"
#include "core/trade/account.h"

struct _SwSharesView
{
  GtkBox parent;
  SwStore *store;
  GtkWidget *summary, *problem, *table_frame, *table, *transfers, *share_form, *entry_form,
      *refused, *entries;
  GtkListStore *rows;
  GtkWidget *share_person, *share_percent;
  GtkWidget *kind, *person, *amount, *day, *remark;
};

G_DEFINE_TYPE (SwSharesView, sw_shares_view, GTK_TYPE_BOX)

enum
{
  COL_PERSON,
  COL_SHARE,
  COL_PART,
  COL_COSTS,
  COL_ADVANCES,
  COL_TAKEN,
  COL_PAYOUTS,
  COL_DUE,
  COL_HOLDS,
  N_COLS
};
static const char *const titles[N_COLS]
    = { N_ ("Person"), N_ ("Share"),    N_ ("Part"), N_ ("Costs paid"), N_ ("Advances"),
        N_ ("Taken"),  N_ ("Paid out"), N_ ("Due"),  N_ ("Holds") };

static const char *const kind_names[SW_N_FAMILY_KINDS] = {
  [SW_FAMILY_ADVANCE] = N_ ("got an advance of"), [SW_FAMILY_COST] = N_ ("paid costs of"),
  [SW_FAMILY_TAKEN] = N_ ("took a thing worth"),  [SW_FAMILY_PAYOUT] = N_ ("was paid out"),
  [SW_FAMILY_HOLDS] = N_ ("holds cash of"),
};

/* ---- reading ---- */

typedef struct
{
  SwAccount account; /* only where problem is NULL */
  char *problem;
  GPtrArray *shares, *entries;
  SwDay today; /* the property's */
} Read;

static void
read_free (gpointer data)
{
  Read *read = data;

  sw_account_clear (&read->account);
  g_free (read->problem);
  g_clear_pointer (&read->shares, g_ptr_array_unref);
  g_clear_pointer (&read->entries, g_ptr_array_unref);
  g_free (read);
}
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Read, read_free)

static gpointer
read_account (SwCatalogue *catalogue, gpointer data, GCancellable *cancellable, GError **error)
{
  g_autoptr (Read) read = g_new0 (Read, 1);
  g_autoptr (GError) why = NULL;

  read->shares = sw_share_list (catalogue, error);
  read->entries = read->shares != NULL ? sw_family_entry_list (catalogue, error) : NULL;
  if (read->entries == NULL)
    return NULL;
  read->today = sw_day_of_instant (*(const SwInstant *)data, sw_catalogue_zone (catalogue));
  if (!sw_account_read (catalogue, &read->account, &why))
    read->problem = g_strdup (why->message);
  return g_steal_pointer (&read);
}

/* ---- acts ---- */

typedef struct
{
  char *person, *remark, *day;
  gint64 part, id;
  SwFamilyEntry entry;
} Wish;

static void
wish_free (gpointer data)
{
  Wish *wish = data;

  g_free (wish->person);
  g_free (wish->remark);
  g_free (wish->day);
  g_free (wish);
}

static void
say_refused (SwSharesView *self, const char *sentence)
{
  gtk_label_set_text (GTK_LABEL (self->refused), sentence != NULL ? sentence : "");
  gtk_widget_set_visible (self->refused, sentence != NULL);
}

static gboolean
run_share (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Wish *wish = data;

  return sw_share_set (catalogue, wish->person, wish->part, error);
}

static gboolean
run_entry (SwCatalogue *catalogue, gpointer data, GError **error)
{
  const Wish *wish = data;
  SwFamilyEntry entry = wish->entry;

  return sw_typed_day (catalogue, wish->day, SW_DAY_NEAR, &entry.day, error)
         && sw_family_entry_add (catalogue, &entry, NULL, error);
}

static gboolean
run_withdraw (SwCatalogue *catalogue, gpointer data, GError **error)
{
  return sw_family_entry_withdraw (catalogue, ((const Wish *)data)->id, error);
}

static const char *
person_in (GtkWidget *combo)
{
  return gtk_entry_get_text (GTK_ENTRY (gtk_bin_get_child (GTK_BIN (combo))));
}

static void
clear_person (GtkWidget *combo)
{
  gtk_entry_set_text (GTK_ENTRY (gtk_bin_get_child (GTK_BIN (combo))), "");
}

static void
on_share_done (gpointer owner, const char *problem)
{
  SwSharesView *self = owner;

  say_refused (self, problem);
  if (problem != NULL)
    return;
  clear_person (self->share_person);
  gtk_entry_set_text (GTK_ENTRY (self->share_percent), "");
  gtk_widget_grab_focus (gtk_bin_get_child (GTK_BIN (self->share_person)));
}

static void
on_share (SwSharesView *self)
{
  g_autoptr (GError) error = NULL;
  Wish *wish = g_new0 (Wish, 1);

  if (!sw_share_parse (gtk_entry_get_text (GTK_ENTRY (self->share_percent)), &wish->part, &error))
    {
      say_refused (self, error->message);
      wish_free (wish);
      return;
    }
  wish->person = g_strdup (person_in (self->share_person));
  sw_store_try (self->store, run_share, wish, wish_free, G_OBJECT (self), on_share_done);
}

static void
on_entry_done (gpointer owner, const char *problem)
{
  SwSharesView *self = owner;

  say_refused (self, problem);
  if (problem != NULL)
    return;
  gtk_entry_set_text (GTK_ENTRY (self->amount), "");
  gtk_entry_set_text (GTK_ENTRY (self->remark), "");
}

static void
on_entry (SwSharesView *self)
{
  g_autoptr (GError) error = NULL;
  Wish *wish = g_new0 (Wish, 1);

  if (!sw_store_parse_money (self->store, gtk_entry_get_text (GTK_ENTRY (self->amount)),
                             &wish->entry.amount, &error))
    {
      say_refused (self, error->message);
      wish_free (wish);
      return;
    }
  wish->person = g_strdup (person_in (self->person));
  wish->remark = g_strdup (gtk_entry_get_text (GTK_ENTRY (self->remark)));
  wish->day = g_strdup (gtk_entry_get_text (GTK_ENTRY (self->day)));
  wish->entry.person = wish->person;
  wish->entry.remark = wish->remark;
  wish->entry.kind = (SwFamilyKind)gtk_combo_box_get_active (GTK_COMBO_BOX (self->kind));
  sw_store_try (self->store, run_entry, wish, wish_free, G_OBJECT (self), on_entry_done);
}

static void
on_withdraw (GtkWidget *button, SwSharesView *self)
{
  Wish *wish = g_new0 (Wish, 1);

  wish->id = *(gint64 *)g_object_get_data (G_OBJECT (button), "sw-entry");
  sw_store_act (self->store, run_withdraw, wish, wish_free, NULL, NULL);
}

/* ---- showing ---- */

/* That nobody has a share yet is no fault: it says what to do. */
static void
show_problem (SwSharesView *self, const Read *read)
{
  GtkStyleContext *style = gtk_widget_get_style_context (self->problem);
  gboolean none = read->problem != NULL && read->shares->len == 0;

  gtk_style_context_remove_class (style, none ? "sw-problem" : "dim-label");
  gtk_style_context_add_class (style, none ? "dim-label" : "sw-problem");
  gtk_label_set_text (GTK_LABEL (self->problem),
                      none ? _ ("Enter each person with their percentage; once they make up 100 %, "
                                "what each one gets stands here.")
                      : read->problem != NULL ? read->problem
                                              : "");
  gtk_widget_set_visible (self->problem, read->problem != NULL);
}

static void
show_summary (SwSharesView *self, const Read *read)
{
  const SwAccount *account = &read->account;
  g_autofree char *to_share = sw_store_money_with_code (self->store, account->to_share);
  g_autofree char *takings = sw_store_money (self->store, account->takings);
  g_autofree char *costs = sw_store_money (self->store, account->costs);
  g_autofree char *taken = sw_store_money (self->store, account->taken);
  g_autofree char *sum = g_strdup_printf (_ ("To share: %s, which is takings of %s less trip "
                                             "costs of %s and with things taken worth %s."),
                                          to_share, takings, costs, taken);
  g_autofree char *final
      = read->problem == NULL
            ? sw_account_final_words (account, sw_store_overview (self->store)->currency)
            : NULL;
  g_autofree char *text = g_strconcat (sum, "\n", final, NULL);

  gtk_label_set_text (GTK_LABEL (self->summary), read->problem == NULL ? text : "");
  gtk_widget_set_visible (self->summary, read->problem == NULL);
  show_problem (self, read);
}

static void
show_account_row (SwSharesView *self, const SwAccountRow *row)
{
  g_autofree char *percent = sw_share_to_text (row->share);
  g_autofree char *share = row->share > 0 ? g_strdup_printf (_ ("%s %%"), percent) : g_strdup ("");
  g_autofree char *part = sw_store_money (self->store, row->part);
  g_autofree char *costs = sw_store_money (self->store, row->costs_paid);
  g_autofree char *advances = sw_store_money (self->store, row->advances);
  g_autofree char *taken = sw_store_money (self->store, row->taken);
  g_autofree char *payouts = sw_store_money (self->store, row->payouts);
  g_autofree char *due = sw_store_money (self->store, row->due);
  g_autofree char *holds = sw_store_money (self->store, row->holds);

  gtk_list_store_insert_with_values (self->rows, NULL, -1, COL_PERSON, row->person, COL_SHARE,
                                     share, COL_PART, part, COL_COSTS, costs, COL_ADVANCES,
                                     advances, COL_TAKEN, taken, COL_PAYOUTS, payouts, COL_DUE, due,
                                     COL_HOLDS, holds, -1);
}

/* Before the shares are whole only they themselves are known. */
static void
show_rows (SwSharesView *self, const Read *read)
{
  gtk_list_store_clear (self->rows);
  for (guint i = 0; read->problem == NULL && i < read->account.rows->len; i++)
    show_account_row (self, g_ptr_array_index (read->account.rows, i));
  for (guint i = 0; read->problem != NULL && i < read->shares->len; i++)
    {
      const SwShare *share = g_ptr_array_index (read->shares, i);
      g_autofree char *percent = sw_share_to_text (share->part);
      g_autofree char *text = g_strdup_printf (_ ("%s %%"), percent);
      gtk_list_store_insert_with_values (self->rows, NULL, -1, COL_PERSON, share->person, COL_SHARE,
                                         text, -1);
    }
  gtk_widget_set_visible (self->table_frame, read->shares->len > 0);
}

static void
show_transfers (SwSharesView *self, const Read *read)
{
  sw_container_empty (self->transfers);
  for (guint i = 0; read->problem == NULL && i < read->account.transfers->len; i++)
    {
      const SwTransfer *transfer = g_ptr_array_index (read->account.transfers, i);
      g_autofree char *amount = sw_store_money_with_code (self->store, transfer->amount);
      g_autofree char *text = NULL;
      if (transfer->from == NULL)
        text = g_strdup_printf (_ ("%s gets %s of what nobody holds yet."), transfer->to, amount);
      else if (transfer->to == NULL)
        text = g_strdup_printf (_ ("%s holds %s more than is accounted for."), transfer->from,
                                amount);
      else
        text = g_strdup_printf (_ ("%s pays %s %s."), transfer->from, transfer->to, amount);
      sw_container_add_line (self->transfers, text, "sw-state");
    }
}

static void
add_entry_row (SwSharesView *self, const SwFamilyEntry *entry)
{
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *button = gtk_button_new_with_label (_ ("Withdraw"));
  g_autofree char *day = sw_day_written (entry->day);
  g_autofree char *amount = sw_store_money_with_code (self->store, entry->amount);
  g_autofree char *text
      = g_strdup_printf ("%s: %s %s %s%s%s", day, entry->person, _ (kind_names[entry->kind]),
                         amount, *entry->remark != '\0' ? ", " : "", entry->remark);
  g_autofree char *name = g_strdup_printf (_ ("Withdraw: %s"), text);
  GtkWidget *label = sw_container_add_line (row, text, NULL);

  gtk_widget_set_hexpand (label, TRUE);
  gtk_style_context_add_class (gtk_widget_get_style_context (button), "sw-add");
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  atk_object_set_name (gtk_widget_get_accessible (button), name);
  g_object_set_data_full (G_OBJECT (button), "sw-entry", g_memdup2 (&entry->id, sizeof entry->id),
                          g_free);
  g_signal_connect (button, "clicked", G_CALLBACK (on_withdraw), self);
  gtk_container_add (GTK_CONTAINER (row), button);
  gtk_container_add (GTK_CONTAINER (self->entries), row);
  gtk_widget_show_all (row);
}

static void
fill_people (GtkWidget *combo, const GPtrArray *shares)
{
  g_autofree char *typed = g_strdup (person_in (combo));

  gtk_combo_box_text_remove_all (GTK_COMBO_BOX_TEXT (combo));
  for (guint i = 0; i < shares->len; i++)
    gtk_combo_box_text_append_text (GTK_COMBO_BOX_TEXT (combo),
                                    ((const SwShare *)g_ptr_array_index (shares, i))->person);
  /* not as it was: that would move the cursor of somebody who types */
  if (strcmp (person_in (combo), typed) != 0)
    gtk_entry_set_text (GTK_ENTRY (gtk_bin_get_child (GTK_BIN (combo))), typed);
}

/* The day of an entry is today's unless another is typed. */
static void
propose_day (SwSharesView *self, SwDay today)
{
  g_autofree char *day = sw_day_written (today);

  if (gtk_entry_get_text_length (GTK_ENTRY (self->day)) == 0)
    gtk_entry_set_text (GTK_ENTRY (self->day), day);
}

static void
on_read (GObject *object, GAsyncResult *result, gpointer data)
{
  g_autoptr (SwSharesView) self = data;
  g_autoptr (Read) read = self->store != NULL ? sw_store_finish (self->store, result, NULL) : NULL;

  if (read == NULL)
    return;
  propose_day (self, read->today);
  show_summary (self, read);
  show_rows (self, read);
  show_transfers (self, read);
  sw_container_empty (self->entries);
  for (guint i = 0; i < read->entries->len; i++)
    add_entry_row (self, g_ptr_array_index (read->entries, i));
  fill_people (self->share_person, read->shares);
  fill_people (self->person, read->shares);
}

static void
load (SwSharesView *self)
{
  SwInstant now = sw_clock_now ();

  sw_store_read (self->store, SW_RANK_VISIBLE, read_account, g_memdup2 (&now, sizeof now), g_free,
                 read_free, NULL, on_read, g_object_ref (self));
}

/* ---- building ---- */

static GtkWidget *
add_entry (GtkWidget *form, const char *hint, const char *name, int chars)
{
  GtkWidget *entry = gtk_entry_new ();

  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), hint);
  gtk_entry_set_width_chars (GTK_ENTRY (entry), chars);
  atk_object_set_name (gtk_widget_get_accessible (entry), name);
  gtk_container_add (GTK_CONTAINER (form), entry);
  return entry;
}

static GtkWidget *
add_person (GtkWidget *form, const char *name)
{
  GtkWidget *combo = gtk_combo_box_text_new_with_entry ();
  GtkWidget *entry = gtk_bin_get_child (GTK_BIN (combo));

  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), _ ("Name"));
  gtk_entry_set_width_chars (GTK_ENTRY (entry), 12);
  atk_object_set_name (gtk_widget_get_accessible (entry), name);
  atk_object_set_name (gtk_widget_get_accessible (combo), _ ("Persons"));
  gtk_container_add (GTK_CONTAINER (form), combo);
  return combo;
}

static void
add_button (SwSharesView *self, GtkWidget *form, const char *label, GCallback callback)
{
  GtkWidget *button = gtk_button_new_with_mnemonic (label);

  g_signal_connect_swapped (button, "clicked", callback, self);
  gtk_container_add (GTK_CONTAINER (form), button);
}

static void
build_forms (SwSharesView *self)
{
  self->share_person = add_person (self->share_form, _ ("Whose share"));
  self->share_percent = add_entry (self->share_form, _ ("33.3333 %"), _ ("Share in percent"), 9);
  add_button (self, self->share_form, _ ("_Set share"), G_CALLBACK (on_share));
  g_signal_connect_swapped (self->share_percent, "activate", G_CALLBACK (on_share), self);

  self->person = add_person (self->entry_form, _ ("Who paid, took or holds"));
  self->kind = gtk_combo_box_text_new ();
  for (int i = 0; i < SW_N_FAMILY_KINDS; i++)
    gtk_combo_box_text_append_text (GTK_COMBO_BOX_TEXT (self->kind), _ (kind_names[i]));
  gtk_combo_box_set_active (GTK_COMBO_BOX (self->kind), 0);
  atk_object_set_name (gtk_widget_get_accessible (self->kind), _ ("What happened"));
  gtk_container_add (GTK_CONTAINER (self->entry_form), self->kind);
  self->amount = add_entry (self->entry_form, _ ("Amount"), _ ("Amount"), 9);
  self->day = add_entry (self->entry_form, _ ("2026-04-30"), _ ("Day"), 10);
  self->remark = add_entry (self->entry_form, _ ("Remark"), _ ("Remark"), 14);
  add_button (self, self->entry_form, _ ("_Add"), G_CALLBACK (on_entry));
  g_signal_connect_swapped (self->amount, "activate", G_CALLBACK (on_entry), self);
  g_signal_connect_swapped (self->remark, "activate", G_CALLBACK (on_entry), self);
  gtk_widget_show_all (self->share_form);
  gtk_widget_show_all (self->entry_form);
}

static void
add_column (SwSharesView *self, int i)
{
  GtkCellRenderer *cell = gtk_cell_renderer_text_new ();
  GtkTreeViewColumn *column
      = gtk_tree_view_column_new_with_attributes (_ (titles[i]), cell, "text", i, NULL);

  g_object_set (cell, "xpad", 10, "ypad", 4, "xalign", i == COL_PERSON ? 0.0 : 1.0, NULL);
  if (i == COL_DUE)
    g_object_set (cell, "weight", PANGO_WEIGHT_BOLD, NULL);
  gtk_tree_view_column_set_alignment (column, i == COL_PERSON ? 0.0f : 1.0f);
  gtk_tree_view_column_set_expand (column, i == COL_PERSON);
  gtk_tree_view_append_column (GTK_TREE_VIEW (self->table), column);
}

static void
sw_shares_view_dispose (GObject *object)
{
  SwSharesView *self = SW_SHARES_VIEW (object);

  if (self->store != NULL)
    g_signal_handlers_disconnect_by_data (self->store, self);
  g_clear_object (&self->store);
  g_clear_object (&self->rows);
  G_OBJECT_CLASS (sw_shares_view_parent_class)->dispose (object);
}

static void
sw_shares_view_class_init (SwSharesViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = sw_shares_view_dispose;
  gtk_widget_class_set_template_from_resource (widget, "/org/shedwalk/Shedwalk/shares-view.ui");
  gtk_widget_class_bind_template_child (widget, SwSharesView, summary);
  gtk_widget_class_bind_template_child (widget, SwSharesView, problem);
  gtk_widget_class_bind_template_child (widget, SwSharesView, table_frame);
  gtk_widget_class_bind_template_child (widget, SwSharesView, table);
  gtk_widget_class_bind_template_child (widget, SwSharesView, transfers);
  gtk_widget_class_bind_template_child (widget, SwSharesView, share_form);
  gtk_widget_class_bind_template_child (widget, SwSharesView, entry_form);
  gtk_widget_class_bind_template_child (widget, SwSharesView, refused);
  gtk_widget_class_bind_template_child (widget, SwSharesView, entries);
}

static void
sw_shares_view_init (SwSharesView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->rows = gtk_list_store_new (N_COLS, G_TYPE_STRING, G_TYPE_STRING, G_TYPE_STRING,
                                   G_TYPE_STRING, G_TYPE_STRING, G_TYPE_STRING, G_TYPE_STRING,
                                   G_TYPE_STRING, G_TYPE_STRING);
  gtk_tree_view_set_model (GTK_TREE_VIEW (self->table), GTK_TREE_MODEL (self->rows));
  for (int i = 0; i < N_COLS; i++)
    add_column (self, i);
  build_forms (self);
}

GtkWidget *
sw_shares_view_new (SwStore *store)
{
  SwSharesView *self = g_object_new (SW_TYPE_SHARES_VIEW, NULL);

  self->store = g_object_ref (store);
  g_signal_connect_object (store, "changed", G_CALLBACK (load), self, G_CONNECT_SWAPPED);
  load (self);
  return GTK_WIDGET (self);
}
