/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cards are kept in the order of results and never move while a board is open: choosing only moves the frame.
 *
 * How many fit is decided from the room that the window reports, not from the page's own size, which the drawer
 * changes.
 */
#include "config.h"
#include "pm-routes-page.h"
#include "pm-card.h"
#include "pm-drop-down.h"
#include "pm-look.h"
#include "pm-result-table.h"
#include "pm-routes-text.h"
#include "pm-row-layout.h"
#include <glib/gi18n.h>

#define CARD_WIDTH 300   /* least, at ordinary text */
#define CARD_GAP 12
#define PAGE_SIDES 28
#define PAGE_SIDES_NARROW 16
#define PAGE_REST 92     /* heading and chips above and below the cards */
#define SIGHT_AIR 8      /* above and below a card that is scrolled to */
#define SIGHT_FRAMES 3

struct _PmRoutesPage {
  GtkBox         parent;
  /* template */
  GtkWidget     *scroller, *content, *head, *compared_label;
  GtkLabel      *stale, *heading;
  GtkDropDown   *compared;
  PmResultTable *table;
  GtkGrid       *cards;
  PmAlsoTried   *also_tried;
  /* owned */
  PmChoice      *choice;
  char          *heading_text;
  GtkSizeGroup  *heads, *verdicts;
  GPtrArray     *all;      /* PmCard, borrowed from the grid */
  int            width, height;
  guint          columns;
  gboolean       as_table, narrow, updating;
  guint          last_shown;
  int            last_finding;
  guint          sight_id;   /* waits until the card that is shown has its place */
  int            sight_frames;
};

static void pm_routes_page_page_init (PmPageInterface *iface);
G_DEFINE_FINAL_TYPE_WITH_CODE (PmRoutesPage, pm_routes_page, GTK_TYPE_BOX,
                               G_IMPLEMENT_INTERFACE (PM_TYPE_PAGE, pm_routes_page_page_init))

/* In cards: the chosen setting where it belongs to the result, else the result's first. */
static guint
case_of_result (PmRoutesPage *self, const PmCheck *check, guint result)
{
  guint chosen = pm_choice_get_chosen (self->choice);

  if (check->cases[chosen].result == result)
    return pm_choice_get_shown (self->choice);
  return g_array_index (check->results[result].settings, guint, 0);
}

static char *
title_of (PmRoutesPage *self, const PmCheck *check, guint case_index)
{
  const PmCaseResult *is = &check->cases[case_index], *setting = &check->cases[is->setting];
  guint others;

  if (case_index == 0)
    return g_strdup (_("Without the board"));
  if (is->kind != PM_CASE_SETTING)
    return is->setting == 0 ? g_strdup (is->title) : g_strdup_printf ("%s · %s", setting->title, is->name);
  others = check->results[is->result].settings->len - 1;
  if (others == 0)
    return g_strdup (is->title);
  return g_strdup_printf (ngettext ("%s, and %u other setting", "%s, and %u other settings", others), is->title,
                          others);
}

static void
set_card (PmRoutesPage *self, const PmCheck *check, PmCard *card, guint case_index)
{
  g_autofree char *title = title_of (self, check, case_index);

  pm_card_set_case (card, case_index, pm_choice_get_compared (self->choice), title);
  pm_card_set_chosen (card, case_index == pm_choice_get_shown (self->choice));
}

/* A lone result is compared with what it is compared with, side by side. */
static guint
n_cards (PmRoutesPage *self, const PmCheck *check)
{
  return self->as_table || check->n_results == 1 ? 2 : check->n_results;
}

static PmCard *
shown_card (PmRoutesPage *self)
{
  guint shown = pm_choice_get_shown (self->choice);

  for (guint i = 0; i < self->all->len; i++)
    if (pm_card_get_case (g_ptr_array_index (self->all, i)) == shown)
      return g_ptr_array_index (self->all, i);
  return NULL;
}

/* The least way; of a card that is higher than the page the upper end, which says what it is about. */
static void
scroll_to_card (PmRoutesPage *self, PmCard *card)
{
  GtkAdjustment *place = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroller));
  double now = gtk_adjustment_get_value (place), page = gtk_adjustment_get_page_size (place), top, bottom;
  graphene_rect_t bounds;

  if (!gtk_widget_compute_bounds (GTK_WIDGET (card), self->content, &bounds))
    return;
  top = bounds.origin.y - SIGHT_AIR;
  bottom = bounds.origin.y + bounds.size.height + SIGHT_AIR;
  if (top < now || bottom - top > page)
    gtk_adjustment_set_value (place, top);
  else if (bottom > now + page)
    gtk_adjustment_set_value (place, bottom - page);
}

static gboolean
sight_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  PmRoutesPage *self = PM_ROUTES_PAGE (widget);
  PmCard *card;

  if (--self->sight_frames > 0)
    return G_SOURCE_CONTINUE;
  self->sight_id = 0;
  card = shown_card (self);
  if (card != NULL)
    scroll_to_card (self, card);
  return G_SOURCE_REMOVE;
}

/* Once the drawer has taken its room. */
static void
bring_in_sight (PmRoutesPage *self)
{
  self->sight_frames = SIGHT_FRAMES;
  if (self->sight_id == 0)
    self->sight_id = gtk_widget_add_tick_callback (GTK_WIDGET (self), sight_cb, NULL, NULL);
}

static void
update (PmRoutesPage *self)
{
  const PmCheck *check = pm_choice_get_check (self->choice);
  int finding = pm_choice_get_finding (self->choice);
  guint shown;

  if (check == NULL)
    return;
  shown = pm_choice_get_shown (self->choice);
  if (self->as_table || check->n_results == 1) {
    guint compared = pm_choice_get_compared (self->choice);
    PmCard *other = g_ptr_array_index (self->all, 1);

    set_card (self, check, g_ptr_array_index (self->all, 0), shown);
    gtk_widget_set_visible (GTK_WIDGET (other), compared != shown && !pm_routes_are_alone (check));
    set_card (self, check, other, compared);
    if (self->last_shown != shown && self->last_shown < check->n_cases)
      pm_plan_view_outline_changed (pm_card_get_plan (g_ptr_array_index (self->all, 0)), self->last_shown);
  } else {
    for (guint i = 0; i < check->n_results; i++)
      set_card (self, check, g_ptr_array_index (self->all, i), case_of_result (self, check, i));
  }
  /* Under a table only what is asked for by a finding: who goes through the rows wants to see the rows. */
  if ((finding >= 0 && finding != self->last_finding) || (shown != self->last_shown && !self->as_table))
    bring_in_sight (self);
  self->last_shown = shown;
  self->last_finding = finding;
  self->updating = TRUE;
  gtk_drop_down_set_selected (self->compared, pm_choice_get_compared (self->choice));
  self->updating = FALSE;
}

static void
build_cards (PmRoutesPage *self, const PmCheck *check)
{
  GtkWidget *child;
  guint n = check != NULL ? n_cards (self, check) : 0;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->cards))) != NULL)
    gtk_grid_remove (self->cards, child);
  g_ptr_array_set_size (self->all, 0);
  g_set_object (&self->heads, NULL);
  g_set_object (&self->verdicts, NULL);
  self->heads = gtk_size_group_new (GTK_SIZE_GROUP_VERTICAL);
  self->verdicts = gtk_size_group_new (GTK_SIZE_GROUP_VERTICAL);
  for (guint i = 0; i < n; i++) {
    GtkWidget *card = pm_card_new (self->choice);

    gtk_widget_set_hexpand (card, TRUE);
    pm_card_align (PM_CARD (card), self->heads, self->verdicts);
    gtk_grid_attach (self->cards, card, (int) (i % self->columns), (int) (i / self->columns), 1, 1);
    g_ptr_array_add (self->all, card);
  }
}

static void
fill_heading (PmRoutesPage *self, const PmCheck *check)
{
  g_autofree char *settings = NULL, *text = NULL;

  if (check->n_settings > check->n_results) {
    settings = g_strdup_printf (ngettext ("%u setting", "%u settings", check->n_settings), check->n_settings);
    text = g_strdup_printf (ngettext ("%s, %u result", "%s, %u different results", check->n_results), settings,
                            check->n_results);
  }
  g_free (self->heading_text);
  self->heading_text = g_strdup (text != NULL ? text : _("What each select reaches"));
}

static void
fill_compared (PmRoutesPage *self, const PmCheck *check)
{
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);

  for (guint i = 0; i <= check->n_settings && i < check->n_cases; i++)
    gtk_string_list_append (names, i == 0 ? _("without the board") : check->cases[i].name);
  self->updating = TRUE;
  gtk_drop_down_set_model (self->compared, G_LIST_MODEL (names));
  self->updating = FALSE;
}

/* Cards or table, and how many columns of cards. */
static void
arrange (PmRoutesPage *self, gboolean always)
{
  const PmCheck *check = pm_choice_get_check (self->choice);
  double scale = pm_look_text_scale (GTK_WIDGET (self));
  int width = MAX (self->width - (self->narrow ? PAGE_SIDES_NARROW : PAGE_SIDES), 1),
      height = self->height - (int)(PAGE_REST * scale);
  int card_width = (int) (CARD_WIDTH * scale), card_height;
  guint columns, rows, wanted;
  gboolean as_table;

  if (check == NULL || self->width <= 0)
    return;
  columns = (guint) MAX (1, (width + CARD_GAP) / (card_width + CARD_GAP));
  card_height = (int) ((150 + 60.0 * MAX (check->board->n_drives, check->board->host.n_units)) * scale);
  rows = (guint) MAX (1, height / card_height);
  wanted = MAX (2, check->n_results);
  as_table = check->n_results > columns * rows && check->n_results > 1 && !(columns == 1 && check->n_results == 2);
  if (as_table)
    wanted = 2;
  columns = MIN (columns, wanted);
  if (!as_table && columns > 1 && wanted > columns) /* 2 and 2 rather than 3 and 1 */
    columns = (wanted + (wanted + columns - 1) / columns - 1) / ((wanted + columns - 1) / columns);
  if (!always && as_table == self->as_table && columns == self->columns)
    return;
  self->as_table = as_table;
  self->columns = columns;
  build_cards (self, check);
  gtk_widget_set_visible (GTK_WIDGET (self->table), as_table);
  update (self);
}

/* Plans are as high as suits a page that scrolls, so that they need not change when its bar comes or goes. */
static void
size_cards (PmRoutesPage *self)
{
  int bar, columns = (int) self->columns;

  gtk_widget_measure (gtk_scrolled_window_get_vscrollbar (GTK_SCROLLED_WINDOW (self->scroller)),
                      GTK_ORIENTATION_HORIZONTAL, -1, NULL, &bar, NULL, NULL);
  for (guint i = 0; i < self->all->len; i++)
    pm_card_set_width (g_ptr_array_index (self->all, i),
                       (self->width - bar - (self->narrow ? PAGE_SIDES_NARROW : PAGE_SIDES) -
                        CARD_GAP * (columns - 1)) / columns);
}

/* In a narrow window the cards come first, and what they are compared with last. */
static void
place_head (PmRoutesPage *self)
{
  const PmCheck *check = pm_choice_get_check (self->choice);
  gboolean below = self->narrow && !self->as_table;
  GtkWidget *after = below ? GTK_WIDGET (self->also_tried) : GTK_WIDGET (self->stale);

  if (gtk_widget_get_prev_sibling (self->head) != after)
    gtk_box_reorder_child_after (GTK_BOX (self->content), self->head, after);
  /* Below the cards there is nothing left to announce. */
  gtk_label_set_text (self->heading, below ? "" : self->heading_text != NULL ? self->heading_text : "");
  gtk_widget_set_visible (self->head, !(below && check != NULL && pm_routes_are_alone (check)));
}

static void
rebuild (PmRoutesPage *self)
{
  const PmCheck *check = pm_choice_get_check (self->choice);

  self->last_shown = PM_NONE;
  self->last_finding = -1;
  if (check == NULL) {
    build_cards (self, NULL);
    return;
  }
  fill_heading (self, check);
  gtk_widget_set_visible (GTK_WIDGET (self->compared), !pm_routes_are_alone (check));
  gtk_widget_set_visible (self->compared_label, !pm_routes_are_alone (check));
  fill_compared (self, check);
  arrange (self, TRUE);
  size_cards (self);
  place_head (self);
}

static void
compared_cb (GtkDropDown *compared, GParamSpec *pspec, PmRoutesPage *self)
{
  guint selected = gtk_drop_down_get_selected (compared);

  if (!self->updating && selected != GTK_INVALID_LIST_POSITION)
    pm_choice_set_compared (self->choice, selected);
}

static gboolean
digit_cb (GtkWidget *widget, GVariant *digit, gpointer data)
{
  pm_routes_page_choose_result (PM_ROUTES_PAGE (widget), g_variant_get_uint32 (digit));
  return TRUE;
}

static void
set_choice (PmPage *page, PmChoice *choice)
{
  PmRoutesPage *self = PM_ROUTES_PAGE (page);

  self->choice = g_object_ref (choice);
  pm_result_table_set_choice (self->table, choice);
  pm_also_tried_set_choice (self->also_tried, choice);
  g_signal_connect_object (choice, "study-changed", G_CALLBACK (rebuild), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (choice, "changed", G_CALLBACK (update), self, G_CONNECT_SWAPPED);
}

static void
set_room (PmPage *page, int width, int height, gboolean narrow)
{
  PmRoutesPage *self = PM_ROUTES_PAGE (page);

  self->narrow = narrow;
  self->width = width;
  self->height = height;
  arrange (self, FALSE);
  size_cards (self);
  place_head (self);
}

static void
set_stale (PmPage *page, const char *text)
{
  PmRoutesPage *self = PM_ROUTES_PAGE (page);

  pm_page_show_stale (self->stale, self->scroller, text);
}

static gboolean
page_focus (PmPage *page)
{
  PmRoutesPage *self = PM_ROUTES_PAGE (page);
  PmCard *card = self->as_table ? NULL : shown_card (self);

  if (self->as_table)
    return gtk_widget_child_focus (GTK_WIDGET (self->table), GTK_DIR_TAB_FORWARD);
  return gtk_widget_child_focus (GTK_WIDGET (card != NULL ? (gpointer) card : self), GTK_DIR_TAB_FORWARD);
}

static gboolean
back (PmPage *page)
{
  return pm_also_tried_end (PM_ROUTES_PAGE (page)->also_tried);
}

static char *
dup_text (PmPage *page)
{
  return pm_routes_text (PM_ROUTES_PAGE (page)->choice, gtk_widget_get_pango_context (GTK_WIDGET (page)));
}

static void
pm_routes_page_page_init (PmPageInterface *iface)
{
  iface->set_choice = set_choice;
  iface->set_room = set_room;
  iface->set_stale = set_stale;
  iface->focus = page_focus;
  iface->back = back;
  iface->dup_text = dup_text;
}

static void
pm_routes_page_dispose (GObject *object)
{
  PmRoutesPage *self = PM_ROUTES_PAGE (object);

  g_clear_object (&self->choice);
  g_clear_pointer (&self->heading_text, g_free);
  g_clear_object (&self->heads);
  g_clear_object (&self->verdicts);
  g_clear_pointer (&self->all, g_ptr_array_unref);
  G_OBJECT_CLASS (pm_routes_page_parent_class)->dispose (object);
}

static void
pm_routes_page_class_init (PmRoutesPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  g_type_ensure (PM_TYPE_RESULT_TABLE);
  g_type_ensure (PM_TYPE_ALSO_TRIED);
  G_OBJECT_CLASS (klass)->dispose = pm_routes_page_dispose;
  g_type_ensure (PM_TYPE_ROW_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pointsman/Pointsman/pm-routes-page.ui");
  gtk_widget_class_bind_template_child (widget_class, PmRoutesPage, scroller);
  gtk_widget_class_bind_template_child (widget_class, PmRoutesPage, content);
  gtk_widget_class_bind_template_child (widget_class, PmRoutesPage, head);
  gtk_widget_class_bind_template_child (widget_class, PmRoutesPage, compared_label);
  gtk_widget_class_bind_template_child (widget_class, PmRoutesPage, stale);
  gtk_widget_class_bind_template_child (widget_class, PmRoutesPage, heading);
  gtk_widget_class_bind_template_child (widget_class, PmRoutesPage, compared);
  gtk_widget_class_bind_template_child (widget_class, PmRoutesPage, table);
  gtk_widget_class_bind_template_child (widget_class, PmRoutesPage, cards);
  gtk_widget_class_bind_template_child (widget_class, PmRoutesPage, also_tried);
  gtk_widget_class_bind_template_callback (widget_class, compared_cb);
  for (guint i = 0; i < 9; i++)
    gtk_widget_class_add_binding (widget_class, GDK_KEY_1 + i, 0, digit_cb, "u", i);
}

static void
pm_routes_page_init (PmRoutesPage *self)
{
  self->all = g_ptr_array_new ();
  self->columns = 1;
  self->last_shown = PM_NONE;
  self->last_finding = -1;
  gtk_widget_init_template (GTK_WIDGET (self));
  pm_drop_down_shorten (self->compared);
}

gboolean
pm_routes_page_is_table (PmRoutesPage *self)
{
  g_return_val_if_fail (PM_IS_ROUTES_PAGE (self), FALSE);
  return self->as_table;
}

void
pm_routes_page_choose_result (PmRoutesPage *self, guint result)
{
  const PmCheck *check;

  g_return_if_fail (PM_IS_ROUTES_PAGE (self));
  check = pm_choice_get_check (self->choice);
  if (check != NULL && result < check->n_results)
    pm_choice_set_chosen (self->choice, g_array_index (check->results[result].settings, guint, 0));
}
