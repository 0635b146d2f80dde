# SPDX-License-Identifier: MIT
# Joins sources of tests into one, so that what they all include is compiled once: cmake -DOUT=FILE -DFILES=A|B|...
# -P join_tests.cmake. What follows the last #include of a file stands in a namespace of its own, so that two files may use one
# name; #line keeps the messages of the compiler true.
string(REPLACE "|" ";" files "${FILES}")
set(joined "// Made by cmake/join_tests.cmake.\n")
foreach(file IN LISTS files)
  file(READ ${file} text)
  string(FIND "${text}" "\n#include" last REVERSE)
  math(EXPR after "${last} + 1")
  string(SUBSTRING "${text}" ${after} -1 rest)
  string(FIND "${rest}" "\n" end)
  math(EXPR after "${after} + ${end} + 1")
  string(SUBSTRING "${text}" 0 ${after} head)
  string(SUBSTRING "${text}" ${after} -1 body)
  string(REGEX REPLACE "[^\n]" "" ends "${head}")
  string(LENGTH "${ends}" lines)
  math(EXPR line "${lines} + 1")
  get_filename_component(name ${file} NAME_WE)
  string(APPEND joined "#line 1 \"${file}\"\n${head}namespace ${name} {\n#line ${line} \"${file}\"\n${body}} // namespace ${name}\n")
endforeach()
file(WRITE ${OUT} "${joined}")
