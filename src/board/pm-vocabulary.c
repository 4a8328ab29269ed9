/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The vocabulary of the files, as one table.  The schema in data/schema says the same for editors; tests hold the two
 * together. */
#include "config.h"
#include "pm-vocabulary.h"
#include "pm-library-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* One way an element can stand.  Attributes and children are lists with blanks; children are keys of this table.  Every
 * element may also have assumed, why and measured, and hold about, note and source. */
typedef struct {
  const char *key;
  const char *element;
  const char *needed;
  const char *allowed;
  const char *children;
  gboolean text;
} Word;

/* Attributes that say yes or no, wherever they stand. */
#define YES_OR_NO "assumed removable turns turned keyed always-one idle"
#define COMMON_ATTRIBUTES "assumed why measured"
#define COMMON_CHILDREN "about note source"

/* clang-format off */
static const Word words[] = {
  { "board", "board", "", "title revision name",
    "host.use host setup.use sits part.use join wire cable rail drive.use wanted never accept "
    "part drive family", FALSE },
  { "setup", "setup", "", "name title",
    "host.use host part.use cable drive.use join wire rail part drive family", FALSE },
  { "host", "host", "name", "title always-one",
    "part.use join wire cable line unit host.never rail family part", FALSE },
  { "drive", "drive", "name pins", "title family",
    "jumper pin part.use join wire answers needs gives drive.supply family part", FALSE },
  { "part", "part", "name", "title letters package families kind keyed rows look contacts",
    "pins loads input output bit table position resistor part.supply part.ground", FALSE },
  { "family", "family", "name", "title open-input unpowered supply", "input output", FALSE },
  /* uses */
  { "host.use", "host", "is", "", "", FALSE },
  { "setup.use", "setup", "is", "", "", FALSE },
  { "part.use", "part", "name", "is title into place usual turns removable moved contacts while", "position", FALSE },
  { "drive.use", "drive", "name", "is title into jumper supply removable turns", "", FALSE },
  /* in boards, hosts and drives */
  { "sits", "sits", "into", "cuts socket plug turns removable", "", FALSE },
  { "join", "join", "", "name", "", TRUE },
  { "wire", "wire", "from to", "colour length gauge name", "", FALSE },
  { "cable", "cable", "name", "title length", "end", FALSE },
  { "end", "end", "", "at crossed map turned shifted turns removable", "", FALSE },
  { "rail", "rail", "name", "volts at limit surge", "", FALSE },
  { "wanted", "wanted", "", "setting without like", "", TRUE },
  { "never", "never", "setting", "because", "", FALSE },
  { "accept", "accept", "finding", "at", "", FALSE },
  { "position", "position", "name", "title closes", "", FALSE },
  { "line", "line", "does",
    "name unit title asserted drives reads family in-reset latched at-power-on needs at", "", FALSE },
  { "unit", "unit", "number", "name title needs", "unit.when", FALSE },
  { "unit.when", "when", "line level", "", "", FALSE },
  { "host.never", "never", "", "units idle because", "", FALSE },
  { "jumper", "jumper", "", "usual", "position", FALSE },
  { "pin", "pin", "name", "title", "", FALSE },
  { "answers", "answers", "", "", "drive.when", FALSE },
  { "drive.when", "when", "at level", "", "", FALSE },
  { "needs", "needs", "does at", "asserted", "", FALSE },
  { "gives", "gives", "does", "at as asserted while holds", "", FALSE },
  { "drive.supply", "supply", "", "average surge rail volts", "", FALSE },
  /* in parts and families */
  { "input", "input", "", "family pins low high current-low current-high", "", FALSE },
  { "output", "output", "", "family pins low high sinks sources leaks", "", FALSE },
  { "pins", "pins", "", "size of most", "", TRUE },
  { "loads", "loads", "pins number", "family", "", FALSE },
  { "bit", "bit", "name", "", "", FALSE },
  { "table", "table", "", "sections", "section", TRUE },
  { "section", "section", "name", "pins", "", FALSE },
  { "resistor", "resistor", "between", "", "", FALSE },
  { "part.supply", "supply", "pin", "", "", FALSE },
  { "part.ground", "ground", "pin", "", "", FALSE },
  { "about", "about", "", "", "", TRUE },
  { "note", "note", "", "", "", TRUE },
  { "source", "source", "", "", "", TRUE },
};
/* clang-format on */

/* TRUE if a list with blanks has the word. */
static gboolean
list_has (const char *list, const char *word, gsize n)
{
  for (const char *at = list; *at != '\0';) {
    gsize length = strcspn (at, " ");
    if (length == n && strncmp (at, word, n) == 0)
      return TRUE;
    at += length;
    at += *at == ' ';
  }
  return FALSE;
}

static const Word *
find_word (const char *key, gsize n)
{
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (strlen (words[i].key) == n && strncmp (words[i].key, key, n) == 0)
      return &words[i];
  return NULL;
}

/* How an element stands in its parent; NULL if it cannot. Of two ways the one that uses a definition is marked by
 * ".use". */
static const Word *
find_child (const Word *parent, const PmXml *element)
{
  gboolean definition = pm_xml_is_definition (element);
  const Word *other = NULL;

  for (const char *at = parent->children; *at != '\0';) {
    gsize n = strcspn (at, " ");
    const Word *word = find_word (at, n);
    if (strcmp (word->element, element->name) == 0) {
      if (g_str_has_suffix (word->key, ".use") != definition)
        return word;
      other = word;
    }
    at += n;
    at += *at == ' ';
  }
  if (other == NULL && list_has (COMMON_CHILDREN, element->name, strlen (element->name)))
    return find_word (element->name, strlen (element->name));
  return other;
}

static void
unknown_element (const Word *parent, const PmXml *element, PmFaults *faults)
{
  g_autoptr (GPtrArray) names = g_ptr_array_new ();
  GString *list = g_string_new (NULL);

  for (const char *at = parent->children; *at != '\0';) {
    gsize n = strcspn (at, " ");
    const Word *word = find_word (at, n);
    gboolean again = names->len > 0 && g_ptr_array_find_with_equal_func (names, word->element, g_str_equal, NULL);
    if (!again) {
      g_ptr_array_add (names, (gpointer)word->element);
      g_string_append_printf (list, "%s ", word->element);
    }
    at += n;
    at += *at == ' ';
  }
  g_string_append (list, "about note");
  const char *near = pm_nearest (element->name, (const char *const *)names->pdata, names->len);
  if (near != NULL)
    pm_faults_add (faults, pm_xml_spot (element), _("<%s> has no meaning inside <%s>. Did you mean <%s>?"),
                   element->name, parent->element, near);
  else
    pm_faults_add (faults, pm_xml_spot (element), _("<%s> has no meaning inside <%s>. There can stand: %s."),
                   element->name, parent->element, list->str);
  g_string_free (list, TRUE);
}

static void
unknown_attribute (const Word *word, const PmXml *element, const char *name, PmFaults *faults)
{
  g_autofree char *list = g_strconcat (word->needed, *word->needed != '\0' ? " " : "", word->allowed,
                                       *word->allowed != '\0' ? " " : "", COMMON_ATTRIBUTES, NULL);
  g_auto (GStrv) names = g_strsplit (list, " ", -1);
  const char *near = pm_nearest (name, (const char *const *)names, g_strv_length (names));

  if (near != NULL)
    pm_faults_add (faults, pm_xml_spot (element), _("<%s> has no attribute \"%s\". Did you mean %s?"), element->name,
                   name, near);
  else
    pm_faults_add (faults, pm_xml_spot (element), _("<%s> has no attribute \"%s\". It can have: %s."), element->name,
                   name, list);
}

static void
check_attributes (const Word *word, const PmXml *element, PmFaults *faults)
{
  for (guint i = 0; i < element->n_attributes; i++) {
    const char *name = element->attributes[i].name;
    gsize n = strlen (name);
    if (!list_has (word->needed, name, n) && !list_has (word->allowed, name, n) &&
        !list_has (COMMON_ATTRIBUTES, name, n))
      unknown_attribute (word, element, name, faults);
    else if (list_has (YES_OR_NO, name, n) && strcmp (element->attributes[i].value, "yes") != 0 &&
             strcmp (element->attributes[i].value, "no") != 0)
      pm_faults_add (faults, pm_xml_spot (element), _("%s=\"%s\": it can be yes or no."), name,
                     element->attributes[i].value);
  }
  for (const char *at = word->needed; *at != '\0';) {
    gsize n = strcspn (at, " ");
    g_autofree char *name = g_strndup (at, n);
    if (pm_xml_get (element, name) == NULL)
      pm_faults_add (faults, pm_xml_spot (element), _("<%s> needs %s=\"…\"."), element->name, name);
    at += n;
    at += *at == ' ';
  }
}

/* Text where none can stand is usually a list that lost its element. */
static void
check_text (const PmXml *element, PmFaults *faults)
{
  guint line = element->text_line;
  const char *at = element->text;

  for (; g_ascii_isspace (*at); at++)
    line += *at == '\n';
  if (*at == '\0')
    return;
  gsize n = MIN (strcspn (at, "\r\n"), 40);
  while (n > 0 && (at[n] & 0xc0) == 0x80)
    n--;
  g_autofree char *start = g_strchomp (g_strndup (at, n));
  pm_faults_add (faults, (PmSpot){ element->file, line, 0 },
                 _("\"%s\" stands loose in <%s>. Put it into an element, such as <join> or <about>."), start,
                 element->name);
}

static void
check (const Word *word, const PmXml *element, PmFaults *faults)
{
  check_attributes (word, element, faults);
  if (!word->text)
    check_text (element, faults);
  for (const PmXml *child = element->children; child != NULL; child = child->next) {
    const Word *inner = find_child (word, child);
    if (inner == NULL)
      unknown_element (word, child, faults);
    else
      check (inner, child, faults);
  }
}

gboolean
pm_vocabulary_check (const PmXml *root, PmFaults *faults)
{
  guint before = pm_faults_found (faults);
  const Word *word = find_word (root->name, strlen (root->name));

  if (word != NULL)
    check (word, root, faults);
  return pm_faults_found (faults) == before;
}
