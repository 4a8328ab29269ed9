/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The safe reader: libxml2's SAX events into a light tree, with every limit checked before it costs anything. */
#include "config.h"
#include "pm-xml.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <libxml/parser.h>
#include <libxml/parserInternals.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define VERSION_PREFIX "urn:x-pointsman:"
#define BLOCK_BYTES 16000

struct _PmXmlFile {
  const char *shown; /* interned */
  GStringChunk *strings;
  GPtrArray *blocks; /* of nodes and attributes */
  gsize left;        /* bytes left in the last block */
  PmXml *root;
};

/* What the events need while a file is read. */
typedef struct {
  PmXmlFile *file;
  PmFaults *faults;
  const char *wanted_root;
  xmlParserCtxtPtr context;
  PmXml *open[PM_XML_MAX_DEPTH];    /* elements that are open, the root first */
  PmXml *last[PM_XML_MAX_DEPTH];    /* last child of each */
  GString *texts[PM_XML_MAX_DEPTH]; /* text so far of each, reused */
  guint depth;
  guint foreign; /* how deep inside an element of another namespace */
  guint n_elements;
  gboolean failed;
} Reading;

static gpointer
take_bytes (PmXmlFile *file, gsize size)
{
  size = (size + 7) & ~(gsize)7;
  if (size > file->left) {
    gsize block = MAX (size, BLOCK_BYTES);
    g_ptr_array_add (file->blocks, g_malloc0 (block));
    file->left = block;
    if (block == BLOCK_BYTES)
      return (file->left -= size, (char *)g_ptr_array_index (file->blocks, file->blocks->len - 1) + file->left);
    file->left = 0;
    return g_ptr_array_index (file->blocks, file->blocks->len - 1);
  }
  file->left -= size;
  return (char *)g_ptr_array_index (file->blocks, file->blocks->len - 1) + file->left;
}

static void G_GNUC_PRINTF (3, 4) fail (Reading *reading, guint line, const char *format, ...)
{
  if (reading->failed)
    return;
  reading->failed = TRUE;
  va_list args;
  va_start (args, format);
  g_autofree char *message = g_strdup_vprintf (format, args);
  va_end (args);
  pm_faults_add (reading->faults, (PmSpot){ reading->file->shown, line, 0 }, "%s", message);
  xmlStopParser (reading->context);
}

static guint
line_now (const Reading *reading)
{
  return reading->context->input != NULL && reading->context->input->line > 0 ? reading->context->input->line : 1;
}

/* The parser stands at the end of a start tag; a tag holds no other "<", so the one before is its own. */
static guint
line_of_tag (const Reading *reading)
{
  const xmlParserInput *input = reading->context->input;
  guint line = line_now (reading), back = 0;

  if (input == NULL || input->base == NULL)
    return line;
  for (const xmlChar *at = input->cur; at-- > input->base;) {
    if (*at == '<')
      return line > back ? line - back : 1;
    if (*at == '\n')
      back++;
  }
  return line;
}

static gboolean
check_root (Reading *reading, const char *name, const char *uri, guint line)
{
  const char *wanted = reading->wanted_root;

  if (uri == NULL) {
    fail (reading, line, _("the first element is <%s> without a namespace. It must be <%s xmlns=\"%s\" …>."), name,
          wanted, PM_XML_NAMESPACE);
    return FALSE;
  }
  if (!g_str_has_prefix (uri, VERSION_PREFIX)) {
    fail (reading, line,
          _("this is not a file of Pointsman: the first element is <%s> of \"%s\". It must be <%s xmlns=\"%s\" …>."),
          name, uri, wanted, PM_XML_NAMESPACE);
    return FALSE;
  }
  if (strcmp (uri, PM_XML_NAMESPACE) != 0) {
    fail (reading, line,
          _("this file is of version \"%s\" and this program reads version \"1\". A newer Pointsman may read it; or "
             "write xmlns=\"%s\""),
          uri + strlen (VERSION_PREFIX), PM_XML_NAMESPACE);
    return FALSE;
  }
  if (strcmp (name, wanted) != 0) {
    fail (reading, line, _("this is a <%s> file where a <%s> file is needed. Name a file that begins with <%s …>."),
          name, wanted, wanted);
    return FALSE;
  }
  return TRUE;
}

/* libxml2 leaves an ampersand of an attribute as "&#38;", whatever it was written as. */
static const char *
keep_value (PmXmlFile *file, const char *value, gsize length)
{
  if (g_strstr_len (value, (gssize)length, "&#38;") == NULL)
    return g_string_chunk_insert_len (file->strings, value, (gssize)length);
  g_autoptr (GString) plain = g_string_new_len (value, (gssize)length);
  g_string_replace (plain, "&#38;", "&", 0);
  return g_string_chunk_insert (file->strings, plain->str);
}

static void
copy_attributes (Reading *reading, PmXml *element, int n, const xmlChar **attributes)
{
  PmXmlFile *file = reading->file;

  element->attributes = n > 0 ? take_bytes (file, sizeof (PmXmlAttribute) * n) : NULL;
  for (int i = 0; i < n; i++, attributes += 5) {
    if (attributes[1] != NULL) /* a prefix: of another namespace */
      continue;
    PmXmlAttribute *attribute = &element->attributes[element->n_attributes++];
    attribute->name = g_string_chunk_insert_const (file->strings, (const char *)attributes[0]);
    attribute->value = keep_value (file, (const char *)attributes[3], (gsize)(attributes[4] - attributes[3]));
  }
}

static void
start_element_cb (void *data, const xmlChar *name, const xmlChar *prefix, const xmlChar *uri, int n_namespaces,
                  const xmlChar **namespaces, int n_attributes, int n_defaulted, const xmlChar **attributes)
{
  Reading *reading = data;

  if (reading->failed)
    return;
  guint line = line_of_tag (reading);
  if (reading->depth + reading->foreign >= PM_XML_MAX_DEPTH) {
    fail (reading, line, _("elements stand more than %d deep in each other. A file of Pointsman needs 5."),
          PM_XML_MAX_DEPTH);
    return;
  }
  if (++reading->n_elements > PM_XML_MAX_ELEMENTS) {
    fail (reading, line, _("more than %d elements. Make the file smaller, or cut it into several."),
          PM_XML_MAX_ELEMENTS);
    return;
  }
  if (reading->depth == 0 && !check_root (reading, (const char *)name, (const char *)uri, line))
    return;
  if (reading->foreign > 0 || uri == NULL || strcmp ((const char *)uri, PM_XML_NAMESPACE) != 0) {
    reading->foreign++;
    return;
  }

  guint depth = reading->depth++;
  PmXml *element = take_bytes (reading->file, sizeof (PmXml));
  element->file = reading->file->shown;
  element->name = g_string_chunk_insert_const (reading->file->strings, (const char *)name);
  element->text = "";
  element->line = line;
  element->text_line = line;
  copy_attributes (reading, element, n_attributes, attributes);
  reading->open[depth] = element;
  reading->last[depth] = NULL;
  if (reading->texts[depth] == NULL)
    reading->texts[depth] = g_string_new (NULL);
  g_string_truncate (reading->texts[depth], 0);
  if (depth == 0) {
    reading->file->root = element;
    return;
  }
  element->parent = reading->open[depth - 1];
  if (reading->last[depth - 1] != NULL)
    reading->last[depth - 1]->next = element;
  else
    element->parent->children = element;
  reading->last[depth - 1] = element;
}

static void
end_element_cb (void *data, const xmlChar *name, const xmlChar *prefix, const xmlChar *uri)
{
  Reading *reading = data;

  if (reading->failed)
    return;
  if (reading->foreign > 0) {
    reading->foreign--;
    return;
  }
  if (reading->depth == 0)
    return;
  guint depth = --reading->depth;
  GString *text = reading->texts[depth];
  if (text->len > 0)
    reading->open[depth]->text = g_string_chunk_insert_len (reading->file->strings, text->str, text->len);
}

static void
characters_cb (void *data, const xmlChar *text, int length)
{
  Reading *reading = data;

  if (reading->failed || reading->foreign > 0 || reading->depth == 0)
    return;
  guint depth = reading->depth - 1;
  if (reading->texts[depth]->len == 0) {
    guint lines = 0, line = line_now (reading);
    for (int i = 0; i < length; i++)
      lines += text[i] == '\n';
    reading->open[depth]->text_line = line > lines ? line - lines : 1;
  }
  g_string_append_len (reading->texts[depth], (const char *)text, length);
}

static xmlEntityPtr
get_entity_cb (void *data, const xmlChar *name)
{
  Reading *reading = data;
  xmlEntityPtr known = xmlGetPredefinedEntity (name);

  if (known == NULL)
    fail (reading, line_now (reading),
          _("&%s; is not read here. Write the character itself; only &amp; &lt; &gt; &quot; &apos; are known."),
          (const char *)name);
  return known;
}

static void
refuse_declaration (Reading *reading)
{
  fail (reading, line_now (reading), _("declarations inside <!DOCTYPE …> are not read. Take the <!DOCTYPE …> out."));
}

static void
entity_decl_cb (void *data, const xmlChar *name, int type, const xmlChar *public_id, const xmlChar *system_id,
                xmlChar *content)
{
  Reading *reading = data;

  fail (reading, line_now (reading),
        _("the entity \"%s\" is declared; entities are not read here. Take the <!DOCTYPE …> out."),
        (const char *)name);
}

static void
element_decl_cb (void *data, const xmlChar *name, int type, xmlElementContentPtr content)
{
  refuse_declaration (data);
}

static void
attribute_decl_cb (void *data, const xmlChar *element, const xmlChar *name, int type, int def, const xmlChar *value,
                   xmlEnumerationPtr tree)
{
  xmlFreeEnumeration (tree);
  refuse_declaration (data);
}

static void
notation_decl_cb (void *data, const xmlChar *name, const xmlChar *public_id, const xmlChar *system_id)
{
  refuse_declaration (data);
}

static void
unparsed_decl_cb (void *data, const xmlChar *name, const xmlChar *public_id, const xmlChar *system_id,
                  const xmlChar *notation)
{
  refuse_declaration (data);
}

/* The library's own words change with its version; the common mistakes have ours. */
static void
error_cb (void *data, xmlErrorPtr error)
{
  Reading *reading = data;
  guint line = line_now (reading);

  if (reading->failed || error->level < XML_ERR_ERROR)
    return;
  switch (error->code) {
  case XML_ERR_DOCUMENT_EMPTY:
  case XML_ERR_DOCUMENT_START:
    fail (reading, line,
          _("this is not XML: it does not begin with \"<\". The first element must be <%s xmlns=\"%s\" …>."),
          reading->wanted_root, PM_XML_NAMESPACE);
    break;
  case XML_ERR_TAG_NAME_MISMATCH:
    fail (reading, line, _("<%s> is still open here and </%s> does not close it. Close <%s> first."),
          error->str1 ? error->str1 : "?", error->str2 ? error->str2 : "?", error->str1 ? error->str1 : "?");
    break;
  case XML_ERR_TAG_NOT_FINISHED:
    if (reading->depth > 0)
      fail (reading, line,
            _("the file ends while <%s> of line %u is still open. Is it whole? It must end with </%s>."),
            reading->open[reading->depth - 1]->name, reading->open[reading->depth - 1]->line, reading->wanted_root);
    else
      fail (reading, line, _("the file ends in the middle of an element. Is it whole? It must end with </%s>."),
            reading->wanted_root);
    break;
  case XML_ERR_DOCUMENT_END:
    fail (reading, line,
          _("there is something after the end of the first element. A file has one; all others stand inside it."));
    break;
  case XML_ERR_ATTRIBUTE_NOT_STARTED:
  case XML_ERR_ATTRIBUTE_WITHOUT_VALUE:
    fail (reading, line, _("an attribute needs its value in quotes: name=\"value\""));
    break;
  case XML_ERR_SPACE_REQUIRED:
    fail (reading, line,
          _("something is wrong between two attributes: a quote or a blank is missing. Each is name=\"value\"."));
    break;
  case XML_ERR_ATTRIBUTE_REDEFINED:
    fail (reading, line, _("the attribute \"%s\" stands twice in one element. Take one out."),
          error->str1 ? error->str1 : "?");
    break;
  case XML_ERR_LT_IN_ATTRIBUTE:
    fail (reading, line,
          _("\"<\" stands inside the value of an attribute: a quote is missing before it, or write &lt;"));
    break;
  case XML_ERR_NAME_REQUIRED:
    fail (reading, line, _("\"<\" or \"&\" without a name behind it. As a character write &lt; or &amp;"));
    break;
  case XML_NS_ERR_UNDEFINED_NAMESPACE:
    fail (reading, line, _("the prefix \"%s\" is not declared. Declare it with xmlns:%s=\"…\", or take it out."),
          error->str1 ? error->str1 : "?", error->str1 ? error->str1 : "?");
    break;
  default: {
    g_autofree char *message = g_strstrip (g_strdup (error->message != NULL ? error->message : "?"));
    fail (reading, line, _("this is not well-formed XML: %s"), message);
  }
  }
}

static void
run_parser (Reading *reading, const char *text, gsize length)
{
  xmlParserCtxtPtr context = xmlCreateMemoryParserCtxt (text, length);
  xmlSAXHandler handler = {
    .initialized = XML_SAX2_MAGIC,
    .startElementNs = start_element_cb,
    .endElementNs = end_element_cb,
    .characters = characters_cb,
    .cdataBlock = characters_cb,
    .ignorableWhitespace = characters_cb,
    .getEntity = get_entity_cb,
    .entityDecl = entity_decl_cb,
    .elementDecl = element_decl_cb,
    .attributeDecl = attribute_decl_cb,
    .notationDecl = notation_decl_cb,
    .unparsedEntityDecl = unparsed_decl_cb,
    .serror = error_cb,
  };

  g_assert (context != NULL);
  *context->sax = handler;
  context->userData = reading;
  xmlCtxtUseOptions (context, XML_PARSE_NONET);
  reading->context = context;
  xmlParseDocument (context);
  if (!context->wellFormed)
    fail (reading, line_now (reading), _("this is not well-formed XML"));
  /* The parser makes a document of its own for the declarations that it met. */
  if (context->myDoc != NULL)
    xmlFreeDoc (context->myDoc);
  context->myDoc = NULL;
  xmlFreeParserCtxt (context);
}

/* Other encodings are not converted: what is shown, edited and saved is the same bytes. */
static gboolean
check_encoding (const char *shown, const char *text, gsize length, PmFaults *faults)
{
  const char *end = NULL;
  PmSpot spot = { shown, 1, 0 };

  if (!g_utf8_validate_len (text, length, &end)) {
    for (const char *at = text; at < end; at++)
      spot.line += *at == '\n';
    if (*end == '\0')
      pm_faults_add (faults, spot, _("a zero byte: this is not a text file. Is it the right file?"));
    else
      pm_faults_add (faults, spot, _("this is not UTF-8 text (byte 0x%02X). Save the file as UTF-8."), (guchar)*end);
    return FALSE;
  }
  const char *declared =
      length > 5 && strncmp (text, "<?xml", 5) == 0 ? g_strstr_len (text, MIN (length, 200), "encoding=") : NULL;
  const char *close = declared != NULL ? g_strstr_len (text, MIN (length, 200), "?>") : NULL;
  if (declared == NULL || close == NULL || declared > close)
    return TRUE;
  const char *word = declared + strlen ("encoding=") + 1;
  gsize n = strcspn (word, "'\"?>");
  if ((n == 5 && g_ascii_strncasecmp (word, "UTF-8", 5) == 0) ||
      (n == 8 && g_ascii_strncasecmp (word, "US-ASCII", 8) == 0))
    return TRUE;
  pm_faults_add (faults, spot, _("the file says encoding=\"%.*s\". Save it as UTF-8 and write encoding=\"UTF-8\""),
                 (int)n, word);
  return FALSE;
}

PmXmlFile *
pm_xml_parse (const char *shown, const char *text, gsize length, const char *root, PmFaults *faults)
{
  PmSpot spot = { g_intern_string (shown), 0, 0 };
  gsize blanks = 0;

  if (length > PM_XML_MAX_BYTES) {
    pm_faults_add (faults, spot, _("larger than 8 MB. A board needs a few kB: is it the right file?"));
    return NULL;
  }
  while (blanks < length && g_ascii_isspace (text[blanks]))
    blanks++;
  if (blanks == length) {
    pm_faults_add (faults, spot, _("the file is empty. Begin with <%s xmlns=\"%s\" …>."), root, PM_XML_NAMESPACE);
    return NULL;
  }
  if (!check_encoding (spot.file, text, length, faults))
    return NULL;

  g_autoptr (PmXmlFile) file = g_new0 (PmXmlFile, 1);
  file->shown = spot.file;
  file->strings = g_string_chunk_new (4000);
  file->blocks = g_ptr_array_new_with_free_func (g_free);
  Reading reading = { .file = file, .faults = faults, .wanted_root = root };
  run_parser (&reading, text, length);
  for (guint i = 0; i < PM_XML_MAX_DEPTH && reading.texts[i] != NULL; i++)
    g_string_free (reading.texts[i], TRUE);
  if (!reading.failed && file->root == NULL)
    pm_faults_add (faults, spot, _("there is no element in it. Begin with <%s xmlns=\"%s\" …>."), root,
                   PM_XML_NAMESPACE);
  return reading.failed || file->root == NULL ? NULL : g_steal_pointer (&file);
}

static void
add_open_fault (int error, PmSpot spot, PmFaults *faults)
{
  switch (error) {
  case ENOENT:
  case ENOTDIR:
    pm_faults_add (faults, spot, _("there is no such file. Look at the name and the folder."));
    break;
  case EACCES:
  case EPERM:
    pm_faults_add (faults, spot, _("no permission to read it. Let its owner allow it: chmod a+r."));
    break;
  case ELOOP:
    pm_faults_add (faults, spot, _("the link leads to itself. Name the file itself."));
    break;
  case ENXIO:
    pm_faults_add (faults, spot, _("this is no file but a device or a pipe. Name a file."));
    break;
  default:
    pm_faults_add (faults, spot, _("cannot be read: %s"), g_strerror (error));
  }
}

/* Reads at most limit bytes and one more, so that a file that grows is noticed. */
static char *
read_all (int fd, gsize expected, gsize limit, gsize *length)
{
  gsize room = MIN (expected, limit) + 1, have = 0;
  g_autofree char *bytes = g_malloc (room + 1);

  for (;;) {
    gssize n = read (fd, bytes + have, room - have);
    if (n < 0 && errno == EINTR)
      continue;
    if (n < 0)
      return NULL;
    have += n;
    if (n == 0 || have > limit)
      break;
    if (have == room) {
      room = MIN (room * 2, limit + 1);
      bytes = g_realloc (bytes, room + 1);
    }
  }
  bytes[have] = '\0';
  *length = have;
  return g_steal_pointer (&bytes);
}

char *
pm_xml_read_bytes (const char *path, const char *shown, gsize *length, PmFaults *faults)
{
  PmSpot spot = { g_intern_string (shown), 0, 0 };
  struct stat info;

  /* A fifo that nobody writes to would make open wait. */
  int fd = open (path, O_RDONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY);
  if (fd < 0) {
    add_open_fault (errno, spot, faults);
    return NULL;
  }
  char *bytes = NULL;
  if (fstat (fd, &info) < 0)
    add_open_fault (errno, spot, faults);
  else if (S_ISDIR (info.st_mode))
    pm_faults_add (faults, spot, _("this is a folder. Name a file in it."));
  else if (!S_ISREG (info.st_mode))
    pm_faults_add (faults, spot, _("this is no file but a device or a pipe. Name a file."));
  else if (info.st_size > PM_XML_MAX_BYTES)
    pm_faults_add (faults, spot, _("larger than 8 MB. A board needs a few kB: is it the right file?"));
  else if ((bytes = read_all (fd, info.st_size, PM_XML_MAX_BYTES, length)) == NULL)
    add_open_fault (errno, spot, faults);
  close (fd);
  return bytes;
}

PmXmlFile *
pm_xml_read (const char *path, const char *shown, const char *root, PmFaults *faults)
{
  gsize length = 0;
  g_autofree char *bytes = pm_xml_read_bytes (path, shown, &length, faults);

  return bytes != NULL ? pm_xml_parse (shown, bytes, length, root, faults) : NULL;
}

void
pm_xml_free (PmXmlFile *file)
{
  if (file == NULL)
    return;
  g_string_chunk_free (file->strings);
  g_ptr_array_unref (file->blocks);
  g_free (file);
}

const PmXml *
pm_xml_root (const PmXmlFile *file)
{
  return file->root;
}

const char *
pm_xml_get (const PmXml *element, const char *name)
{
  for (guint i = 0; i < element->n_attributes; i++)
    if (strcmp (element->attributes[i].name, name) == 0)
      return element->attributes[i].value;
  return NULL;
}

PmSpot
pm_xml_spot (const PmXml *element)
{
  return (PmSpot){ element->file, element->line, 0 };
}

gboolean
pm_xml_is (const PmXml *element, const char *name)
{
  return strcmp (element->name, name) == 0;
}

const PmXml *
pm_xml_child (const PmXml *element, const char *name)
{
  for (const PmXml *child = element->children; child != NULL; child = child->next)
    if (pm_xml_is (child, name))
      return child;
  return NULL;
}

static char *
fold_blanks (const char *text)
{
  GString *folded = g_string_new (NULL);

  for (const char *at = text; *at != '\0';) {
    gsize blanks = strspn (at, " \t\r\n"), word = strcspn (at + blanks, " \t\r\n");
    if (word > 0 && folded->len > 0)
      g_string_append_c (folded, ' ');
    g_string_append_len (folded, at + blanks, word);
    at += blanks + word;
  }
  return g_string_free (folded, FALSE);
}

char *
pm_xml_dup_text_of (const PmXml *element, const char *name)
{
  const PmXml *child = pm_xml_child (element, name);

  return child != NULL ? fold_blanks (child->text) : NULL;
}

gboolean
pm_xml_yes (const PmXml *element, const char *name, gboolean usual)
{
  const char *value = pm_xml_get (element, name);

  return value != NULL ? strcmp (value, "yes") == 0 : usual;
}

int
pm_xml_choice (const PmXml *element, const char *name, const char *const *choices, int usual, PmFaults *faults)
{
  const char *value = pm_xml_get (element, name);

  if (value == NULL)
    return usual;
  for (int i = 0; choices[i] != NULL; i++)
    if (strcmp (choices[i], value) == 0)
      return i;
  g_autofree char *list = g_strjoinv (" ", (char **)choices);
  const char *near = pm_nearest (value, choices, g_strv_length ((char **)choices));
  if (near != NULL)
    pm_faults_add (faults, pm_xml_spot (element), _("%s=\"%s\": it can be %s. Did you mean %s?"), name, value, list,
                   near);
  else
    pm_faults_add (faults, pm_xml_spot (element), _("%s=\"%s\": it can be %s."), name, value, list);
  return usual;
}

gboolean
pm_xml_number (const PmXml *element, const char *name, guint low, guint high, guint *out, PmFaults *faults)
{
  const char *value = pm_xml_get (element, name);
  guint64 number;

  if (value == NULL)
    return FALSE;
  if (!g_ascii_string_to_unsigned (value, 10, low, high, &number, NULL)) {
    pm_faults_add (faults, pm_xml_spot (element), _("%s=\"%s\": it must be a whole number from %u to %u."), name,
                   value, low, high);
    return FALSE;
  }
  *out = number;
  return TRUE;
}

static gint
compare_attributes (gconstpointer a, gconstpointer b)
{
  return strcmp (((const PmXmlAttribute *)a)->name, ((const PmXmlAttribute *)b)->name);
}

static void
digest_word (GChecksum *sum, char mark, const char *word)
{
  g_checksum_update (sum, (const guchar *)&mark, 1);
  g_checksum_update (sum, (const guchar *)word, strlen (word));
}

void
pm_xml_digest (const PmXml *element, GChecksum *sum, gboolean (*skip) (const PmXml *child))
{
  g_autofree PmXmlAttribute *sorted = g_memdup2 (element->attributes, sizeof (PmXmlAttribute) * element->n_attributes);
  g_autofree char *text = fold_blanks (element->text);

  digest_word (sum, '\1', element->name);
  if (element->n_attributes > 1)
    qsort (sorted, element->n_attributes, sizeof (PmXmlAttribute), compare_attributes);
  for (guint i = 0; i < element->n_attributes; i++) {
    digest_word (sum, '\2', sorted[i].name);
    digest_word (sum, '\3', sorted[i].value);
  }
  digest_word (sum, '\4', text);
  for (const PmXml *child = element->children; child != NULL; child = child->next)
    if (skip == NULL || !skip (child))
      pm_xml_digest (child, sum, NULL);
  digest_word (sum, '\5', "");
}
