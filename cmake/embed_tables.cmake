# SPDX-License-Identifier: MIT
# Writes texts as C++: cmake -DOUT=FILE -DFILES=A|B|... -P embed_tables.cmake
# OUT then holds `struct EmbeddedText { name, text }` and `embedded_texts[]`, sorted by name, to be included inside an
# unnamed namespace (materials/table_data.cpp, validation/case_data.cpp). Characters are written one by one, so that no
# text can be too long for a string literal or break its quotes.
string(REPLACE "|" ";" files "${FILES}")
list(SORT files)
set(arrays "")
set(rows "")
set(count 0)
foreach(file IN LISTS files)
  file(READ ${file} hex HEX)
  string(REGEX REPLACE "(..)" "'\\\\x\\1'," characters "${hex}")
  string(REGEX REPLACE "('[^']*',)('[^']*',)('[^']*',)('[^']*',)('[^']*',)('[^']*',)('[^']*',)('[^']*',)"
         "\\1\\2\\3\\4\\5\\6\\7\\8\n" characters "${characters}")
  get_filename_component(name ${file} NAME_WLE)
  string(APPEND arrays "constexpr char text_${count}[] = {\n${characters}'\\0'};\n")
  string(APPEND rows "    {\"${name}\", {text_${count}, sizeof text_${count} - 1}},\n")
  math(EXPR count "${count} + 1")
endforeach()
file(WRITE ${OUT} "// Made by cmake/embed_tables.cmake.\n${arrays}\
struct EmbeddedText {\n    std::string_view name, text;\n};\n\
constexpr std::array<EmbeddedText, ${count}> embedded_texts{{\n${rows}}};\n")
