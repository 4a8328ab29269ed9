/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drives: their pins, when they answer, what they need and give. */
#include "config.h"
#include "pm-board-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static const char *const level_names[] = { "low", "high", NULL };

PmPart *
pm_drive_part (PmBuild *build, const PmXml *kind, const char *name, guint *n_outer)
{
  guint n = 0, n_inner = 0;
  gboolean again = FALSE;

  if (!pm_xml_number (kind, "pins", 1, 200, &n, build->faults))
    return NULL;
  for (const PmXml *child = kind->children; child != NULL; child = child->next)
    n_inner += pm_xml_is (child, "pin") && pm_xml_get (child, "name") != NULL;
  for (guint i = 0; i < build->raw_drives->len; i++)
    again = again || g_array_index (build->raw_drives, PmRawDrive, i).kind == kind;
  PmPart *part = pm_build_new_part (build, name, PM_PART_DRIVE, n + n_inner);
  guint at = n;
  for (const PmXml *child = kind->children; child != NULL; child = child->next) {
    const char *pin = pm_xml_is (child, "pin") ? pm_xml_get (child, "name") : NULL;
    if (pin == NULL)
      continue;
    if (pm_part_pin (part, pin) < at && !again)
      pm_faults_add (build->faults, pm_xml_spot (child), _("the pin \"%s\" is given twice. Rename one."), pin);
    g_free (part->pins[at].number);
    g_free (part->pins[at].name);
    part->pins[at].number = g_strdup (pin);
    part->pins[at++].name = g_strdup (pin);
  }
  part->title = g_strdup (pm_xml_get (kind, "title"));
  part->source = pm_xml_dup_text_of (kind, "source");
  part->spot = pm_xml_spot (kind);
  *n_outer = n;
  return part;
}

PmContext
pm_drive_context (const PmBuild *build, guint drive)
{
  const PmRawDrive *raw = &g_array_index (build->raw_drives, PmRawDrive, drive);

  return (PmContext){ raw->prefix, PM_OWNER_DRIVE, drive, raw->instance, raw->kind };
}

static void
read_answers (PmBuild *build, const PmContext *context, const PmXml *element, GArray *list)
{
  GArray *whens = g_array_new (FALSE, FALSE, sizeof (PmWhen));
  PmAnswers answers = { .spot = pm_xml_spot (element) };

  for (const PmXml *child = element->children; child != NULL; child = child->next) {
    const char *at = pm_xml_get (child, "at");
    if (!pm_xml_is (child, "when") || at == NULL)
      continue;
    PmWhen when = { pm_build_place (build, context, at, pm_xml_spot (child)),
                    pm_xml_choice (child, "level", level_names, 0, build->faults) == 1 };
    if (when.place != PM_NONE)
      g_array_append_val (whens, when);
  }
  if (whens->len == 0)
    pm_faults_add (build->faults, answers.spot,
                   _("<answers> does not say when. Add <when at=\"10\" level=\"low\"/>."));
  answers.n_whens = whens->len;
  answers.whens = (PmWhen *)g_array_free (whens, FALSE);
  g_array_append_val (list, answers);
}

static void
read_needs (PmBuild *build, const PmContext *context, const PmXml *element, GArray *list)
{
  const char *does = pm_xml_get (element, "does"), *at = pm_xml_get (element, "at");
  PmNeeds needs = { .place = PM_NONE, .spot = pm_xml_spot (element) };

  if (does == NULL)
    return;
  if (at != NULL)
    needs.place = pm_build_place (build, context, at, needs.spot);
  needs.asserted_high = pm_xml_choice (element, "asserted", level_names, 0, build->faults) == 1;
  if (needs.place == PM_NONE)
    return;
  needs.does = g_strdup (does);
  g_array_append_val (list, needs);
}

static void
read_gives (PmBuild *build, const PmContext *context, const PmXml *element, GArray *list)
{
  static const char *const as[] = { "open-collector", "push-pull", "three-state", NULL };
  static const char *const whiles[] = { "answering", "always", NULL };
  const char *does = pm_xml_get (element, "does"), *at = pm_xml_get (element, "at");
  PmGives gives = { .place = PM_NONE, .spot = pm_xml_spot (element) };

  if (does == NULL)
    return;
  if (at != NULL)
    gives.place = pm_build_place (build, context, at, gives.spot);
  gives.does = g_strdup (does);
  gives.as = pm_xml_choice (element, "as", as, 0, build->faults);
  gives.while_ = pm_xml_choice (element, "while", whiles, 0, build->faults);
  gives.asserted_high = pm_xml_choice (element, "asserted", level_names, 0, build->faults) == 1;
  gives.holds = pm_xml_choice (element, "holds", level_names, -1, build->faults);
  if (gives.holds >= 0 && gives.while_ != PM_WHILE_ALWAYS)
    pm_faults_add (build->faults, gives.spot,
                   _("holds= goes with while=\"always\": a drive that holds a line does so whether selected or not."));
  g_array_append_val (list, gives);
}

/* Heads first: rails and joins ask for a drive's supply. */
static void
read_head (PmBuild *build, guint index)
{
  const PmRawDrive *raw = &g_array_index (build->raw_drives, PmRawDrive, index);
  const PmInstance *instance = &pm_build_raw (build, raw->instance)->instance;
  const char *family = pm_xml_get (raw->kind, "family");
  PmDrive *drive = &build->board->drives[index];

  drive->name = g_strdup (instance->ref);
  drive->title = g_strdup (instance->title);
  drive->kind = g_strdup (instance->is);
  drive->instance = raw->instance;
  drive->jumper = PM_NONE;
  drive->into = PM_NONE;
  drive->assumed = instance->assumed;
  drive->spot = instance->spot;
  drive->family =
      pm_scope_family (&build->scope, family != NULL ? family : "LS", pm_xml_spot (raw->kind), build->faults);
}

static void
read_body (PmBuild *build, guint index)
{
  PmContext context = pm_drive_context (build, index);
  PmDrive *drive = &build->board->drives[index];
  GArray *answers = g_array_new (FALSE, TRUE, sizeof (PmAnswers)), *needs = g_array_new (FALSE, TRUE, sizeof (PmNeeds));
  GArray *gives = g_array_new (FALSE, TRUE, sizeof (PmGives));

  for (const PmXml *child = context.root->children; child != NULL; child = child->next)
    if (pm_xml_is (child, "answers"))
      read_answers (build, &context, child, answers);
    else if (pm_xml_is (child, "needs"))
      read_needs (build, &context, child, needs);
    else if (pm_xml_is (child, "gives"))
      read_gives (build, &context, child, gives);
  if (answers->len == 0)
    pm_faults_add (
        build->faults, pm_xml_spot (context.root),
        _("the drive does not say when it answers. Add <answers><when at=\"10\" level=\"low\"/></answers>."));
  drive->n_answers = answers->len;
  drive->answers = (PmAnswers *)g_array_free (answers, FALSE);
  drive->n_needs = needs->len;
  drive->needs = (PmNeeds *)g_array_free (needs, FALSE);
  drive->n_gives = gives->len;
  drive->gives = (PmGives *)g_array_free (gives, FALSE);
  pm_build_joins (build, &context);
  pm_build_plugs (build, &context);
}

PmFaults *
pm_drive_silence (PmBuild *build, guint index)
{
  const PmXml *kind = g_array_index (build->raw_drives, PmRawDrive, index).kind;

  for (guint k = 0; k < index; k++)
    if (g_array_index (build->raw_drives, PmRawDrive, k).kind == kind)
      return build->faults = pm_faults_new ();
  return NULL;
}

static void
each_drive (PmBuild *build, void (*read) (PmBuild *build, guint index))
{
  for (guint i = 0; i < build->board->n_drives; i++) {
    PmFaults *kept = build->faults, *silent = pm_drive_silence (build, i);
    read (build, i);
    build->faults = kept;
    g_clear_pointer (&silent, pm_faults_free);
  }
}

void
pm_build_drives (PmBuild *build)
{
  each_drive (build, read_head);
  pm_build_rails (build);
  each_drive (build, read_body);
}

/* A drive that nothing is joined to is a slip of the pen. */
void
pm_check_plugged (PmBuild *build)
{
  for (guint i = 0; i < build->board->n_drives; i++) {
    const PmInstance *instance = &pm_build_raw (build, build->board->drives[i].instance)->instance;
    gboolean joined = pm_xml_get (pm_build_raw (build, build->board->drives[i].instance)->element, "into") != NULL;
    for (guint k = 0; k < build->matings->len && !joined; k++)
      joined = g_array_index (build->matings, PmMating, k).a == build->board->drives[i].instance;
    for (guint k = 0; k < build->joins->len && !joined; k++) {
      const PmJoin *join = &g_array_index (build->joins, PmJoin, k);
      for (guint p = 0; join->owner == PM_OWNER_BOARD && p < join->n_places && !joined; p++)
        joined = join->places[p] - instance->first_place < instance->part->n_pins;
    }
    g_autofree char *key = g_strconcat ("plugged ", instance->ref, NULL);
    if (!joined && !g_hash_table_contains (build->told, key))
      pm_faults_add (build->faults, instance->spot,
                     _("%s is plugged into nothing. Give it into=\"…\", or name it in an end of a cable."),
                     instance->ref);
  }
}
