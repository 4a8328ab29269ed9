/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Edits of an XML text that touch nothing but the bytes in question.
 *
 * A scan over tags finds the place; the safe reader judges the text before and after.  An edit after which the text
 * could not be read is not made. */
#include "config.h"
#include "pm-document.h"
#include "pm-xml.h"

#include <string.h>

/* One start tag, or "</name>": offsets into the text. */
typedef struct {
  gsize    start, end;           /* "<" and behind ">" */
  gsize    name, name_end;
  gsize    attributes_end;       /* behind the last attribute, or behind the name */
  guint    depth;                /* 0: the root; of an end tag, that of its start tag */
  gboolean closes, empty;        /* "</name>", "<name/>" */
} Tag;

typedef struct {
  const char *text;
  gsize       length, at;
  guint       depth;
} Scan;

static gboolean
begins (const Scan *scan, const char *with)
{
  gsize n = strlen (with);

  return scan->length - scan->at >= n && memcmp (scan->text + scan->at, with, n) == 0;
}

/* Moves behind the next occurrence, or to the end of the text. */
static void
skip_behind (Scan *scan, const char *mark)
{
  const char *found = g_strstr_len (scan->text + scan->at, scan->length - scan->at, mark);

  scan->at = found != NULL ? found - scan->text + strlen (mark) : scan->length;
}

static gboolean
is_blank (char c)
{
  return c == ' ' || c == '\t' || c == '\r' || c == '\n';
}

static gsize
skip_word (const Scan *scan, gsize at)
{
  while (at < scan->length && !is_blank (scan->text[at]) && strchr ("/>=", scan->text[at]) == NULL)
    at++;
  return at;
}

static gsize
skip_blanks (const Scan *scan, gsize at)
{
  while (at < scan->length && is_blank (scan->text[at]))
    at++;
  return at;
}

/* One attribute at an offset: its name, and its value without the quotes.  FALSE if there is none. */
static gboolean
read_attribute (const Scan *scan, gsize at, gsize *name_end, gsize *value, gsize *value_end)
{
  *name_end = skip_word (scan, at);
  gsize next = skip_blanks (scan, *name_end);
  if (*name_end == at || next >= scan->length || scan->text[next] != '=')
    return FALSE;
  next = skip_blanks (scan, next + 1);
  if (next >= scan->length || (scan->text[next] != '"' && scan->text[next] != '\''))
    return FALSE;
  const char *close = memchr (scan->text + next + 1, scan->text[next], scan->length - next - 1);
  if (close == NULL)
    return FALSE;
  *value = next + 1;
  *value_end = close - scan->text;
  return TRUE;
}

/* The next start or end tag; comments, instructions, CDATA and a plain DOCTYPE are passed over. */
static gboolean
next_tag (Scan *scan, Tag *tag)
{
  while (scan->at < scan->length) {
    if (scan->text[scan->at] != '<')
      scan->at++;
    else if (begins (scan, "<!--"))
      skip_behind (scan, "-->");
    else if (begins (scan, "<![CDATA["))
      skip_behind (scan, "]]>");
    else if (begins (scan, "<?"))
      skip_behind (scan, "?>");
    else if (begins (scan, "<!"))
      skip_behind (scan, ">");
    else
      break;
  }
  if (scan->at >= scan->length)
    return FALSE;

  gsize name_end, value, value_end;
  tag->start = scan->at;
  tag->closes = begins (scan, "</");
  tag->name = tag->start + (tag->closes ? 2 : 1);
  tag->name_end = tag->attributes_end = skip_word (scan, tag->name);
  gsize at = skip_blanks (scan, tag->name_end);
  while (read_attribute (scan, at, &name_end, &value, &value_end)) {
    tag->attributes_end = value_end + 1;
    at = skip_blanks (scan, value_end + 1);
  }
  tag->empty = at < scan->length && scan->text[at] == '/';
  at += tag->empty;
  if (at >= scan->length || scan->text[at] != '>' || (tag->closes && scan->depth == 0))
    return FALSE;
  tag->end = scan->at = at + 1;
  tag->depth = tag->closes ? --scan->depth : scan->depth;
  if (!tag->closes && !tag->empty)
    scan->depth++;
  return TRUE;
}

/* Offset of the name without its prefix. */
static gsize
local_name (const char *text, const Tag *tag)
{
  const char *colon = memchr (text + tag->name, ':', tag->name_end - tag->name);

  return colon != NULL ? (gsize) (colon + 1 - text) : tag->name;
}

/* Number of the root's own elements; -1 if the text cannot be read as a file with that root. */
static int
count_children (const char *text, gsize length, const char *root)
{
  g_autoptr (PmFaults) faults = pm_faults_new ();
  g_autoptr (PmXmlFile) file = pm_xml_parse ("", text, length, root, faults);
  int n = 0;

  if (file == NULL)
    return -1;
  for (const PmXml *child = pm_xml_root (file)->children; child != NULL; child = child->next)
    n++;
  return n;
}

/* Makes the edit only if the text can be read afterwards and the root then has so many elements. */
static gboolean
replace_if_sound (PmDocument *document, gsize offset, gsize length, const char *with, const char *root, int n_children)
{
  gsize have;
  const char *text = pm_document_text (document, &have);

  if (!g_utf8_validate (with, -1, NULL))
    return FALSE;
  g_autoptr (GString) then = g_string_new_len (text, offset);
  g_string_append (then, with);
  g_string_append_len (then, text + offset + length, have - offset - length);
  if (count_children (then->str, then->len, root) != n_children)
    return FALSE;
  pm_document_replace (document, offset, length, with);
  return TRUE;
}

/* Blanks at the start of the line in which offset is; FALSE if something else stands between them and offset. */
static gboolean
indent_of (const char *text, gsize offset, gsize *line_start)
{
  gsize at = offset;

  while (at > 0 && (text[at - 1] == ' ' || text[at - 1] == '\t'))
    at--;
  *line_start = at;
  return at == 0 || text[at - 1] == '\n' || text[at - 1] == '\r';
}

/* How the line before offset ends, else any line of the text. */
static const char *
line_end_before (const char *text, gsize length, gsize offset)
{
  const char *found = g_strrstr_len (text, offset, "\n");

  if (found == NULL)
    found = g_strstr_len (text, length, "\n");
  return found != NULL && found > text && found[-1] == '\r' ? "\r\n" : "\n";
}

/* The element as it will stand: each of its lines indented, with the line ends of the file, and in our namespace
 * where the file's root has a prefix. */
static char *
dress_element (const char *xml, const char *indent, const char *line_end, gboolean prefixed)
{
  g_autofree char *plain = g_strstrip (g_strdup (xml));
  g_autoptr (GString) dressed = g_string_new (indent);

  for (const char *at = plain; *at != '\0'; at++)
    if (*at == '\n')
      g_string_append_printf (dressed, "%s%s", line_end, indent);
    else if (*at != '\r')
      g_string_append_c (dressed, *at);
  if (prefixed) {
    gsize name_end = strlen (indent) + strcspn (plain, " \t\r\n/>");
    g_string_insert (dressed, name_end, " xmlns=\"" PM_XML_NAMESPACE "\"");
  }
  return g_string_free (g_steal_pointer (&dressed), FALSE);
}

gboolean
pm_document_append_element (PmDocument *document, const char *xml)
{
  gsize length, line_start;
  const char *text = pm_document_text (document, &length);
  Scan scan = { .text = text, .length = length };
  Tag root, tag, end = { 0 };
  g_autofree char *indent = g_strdup ("  ");

  int n_children = count_children (text, length, "board");
  if (n_children < 0 || !next_tag (&scan, &root) || root.closes)
    return FALSE;
  while (scan.depth > 0 && next_tag (&scan, &tag)) {
    if (tag.closes)
      end = tag;
    else if (tag.depth == 1 && indent_of (text, tag.start, &line_start)) {
      g_free (indent);
      indent = g_strndup (text + line_start, tag.start - line_start);
    }
  }
  if (scan.depth > 0)
    return FALSE;

  gboolean prefixed = local_name (text, &root) != root.name;
  const char *line_end = line_end_before (text, length, root.empty ? root.start : end.start);
  g_autofree char *element = dress_element (xml, indent, line_end, prefixed);
  g_autofree char *with = NULL;
  if (root.empty) {
    gsize from = root.attributes_end;
    g_autofree char *name = g_strndup (text + root.name, root.name_end - root.name);
    with = g_strconcat (">", line_end, element, line_end, "</", name, ">", NULL);
    return replace_if_sound (document, from, root.end - from, with, "board", n_children + 1);
  }
  if (indent_of (text, end.start, &line_start)) {
    with = g_strconcat (element, line_end, NULL);
    return replace_if_sound (document, line_start, 0, with, "board", n_children + 1);
  }
  with = g_strconcat (line_end, element, line_end, NULL);
  return replace_if_sound (document, end.start, 0, with, "board", n_children + 1);
}

/* Finds an attribute by name; its raw value is value..value_end. */
static gboolean
find_attribute (const Scan *scan, const Tag *tag, const char *name, gsize *value, gsize *value_end)
{
  gsize at = skip_blanks (scan, tag->name_end), name_end;

  while (read_attribute (scan, at, &name_end, value, value_end)) {
    if (name_end - at == strlen (name) && memcmp (scan->text + at, name, name_end - at) == 0)
      return TRUE;
    at = skip_blanks (scan, *value_end + 1);
  }
  return FALSE;
}

/* A value as it stands between such quotes.  Line ends and tabs would come back as blanks if they stood there as they
 * are. */
static char *
escape_value (const char *value, char quote)
{
  GString *escaped = g_string_new (NULL);

  for (const char *at = value; *at != '\0'; at++)
    if (*at == '&')
      g_string_append (escaped, "&amp;");
    else if (*at == '<')
      g_string_append (escaped, "&lt;");
    else if (*at == quote)
      g_string_append (escaped, quote == '"' ? "&quot;" : "&apos;");
    else if (*at == '\n' || *at == '\r' || *at == '\t')
      g_string_append_printf (escaped, "&#%d;", *at);
    else
      g_string_append_c (escaped, *at);
  return g_string_free (escaped, FALSE);
}

/* "part" or "part U1": the second is the element's name=, for lines with several.  prefix: the root's, with its
 * colon; others are not ours. */
static gboolean
tag_matches (const Scan *scan, const Tag *tag, const char *prefix, const char *element)
{
  const char *blank = strchr (element, ' ');
  gsize local = local_name (scan->text, tag), value, value_end;
  gsize n = blank != NULL ? (gsize) (blank - element) : strlen (element);

  if (local - tag->name != strlen (prefix) || memcmp (scan->text + tag->name, prefix, strlen (prefix)) != 0
      || tag->name_end - local != n || memcmp (scan->text + local, element, n) != 0)
    return FALSE;
  if (blank == NULL)
    return TRUE;
  if (!find_attribute (scan, tag, "name", &value, &value_end))
    return FALSE;
  g_autofree char *wanted = escape_value (blank + 1, scan->text[value_end]);
  return strlen (wanted) == value_end - value && memcmp (wanted, scan->text + value, value_end - value) == 0;
}

gboolean
pm_document_set_attribute (PmDocument *document, guint line, const char *element, const char *name, const char *value)
{
  gsize length, at = 0, from, to;
  guint now = 1, n_found = 0;
  const char *text = pm_document_text (document, &length);
  Scan scan = { .text = text, .length = length };
  Tag tag, found = { 0 };
  g_autofree char *root = NULL, *prefix = NULL;

  while (now <= line && next_tag (&scan, &tag)) {
    for (; at < tag.start; at++)
      now += text[at] == '\n';
    if (root == NULL) {
      gsize local = local_name (text, &tag);
      root = g_strndup (text + local, tag.name_end - local);
      prefix = g_strndup (text + tag.name, local - tag.name);
    }
    if (now == line && !tag.closes && tag_matches (&scan, &tag, prefix, element)) {
      found = tag;
      n_found++;
    }
  }
  if (n_found != 1)
    return FALSE;
  int n_children = count_children (text, length, root);
  if (n_children < 0)
    return FALSE;
  if (find_attribute (&scan, &found, name, &from, &to)) {
    g_autofree char *escaped = escape_value (value, text[to]);
    if (strlen (escaped) == to - from && memcmp (escaped, text + from, to - from) == 0)
      return TRUE;
    return replace_if_sound (document, from, to - from, escaped, root, n_children);
  }
  g_autofree char *escaped = escape_value (value, '"');
  g_autofree char *with = g_strdup_printf (" %s=\"%s\"", name, escaped);
  return replace_if_sound (document, found.attributes_end, 0, with, root, n_children);
}
