# SPDX-License-Identifier: MIT
# The module of the page (cli/page): the rooms as they are, compiled to WebAssembly by emscripten. cli/page/build.sh configures
# with emscripten's toolchain and makes hollowtop_module.mjs and .wasm; HOLLOWTOP_JOIN halves the work.

# write_once(FILE TEXT): a file written anew would make all be compiled anew.
function(write_once file text)
  if(NOT EXISTS ${file})
    file(WRITE ${file} "${text}")
  endif()
endfunction()

# Headers of libraries stand beside those of the system, which are not the module's: each gets a folder that holds it alone.
set(headers ${PROJECT_BINARY_DIR}/headers)
file(MAKE_DIRECTORY ${headers})
foreach(library IN ITEMS "Eigen3::Eigen|eigen3/Eigen" "nlohmann_json::nlohmann_json|nlohmann" "CLI11::CLI11|CLI")
  string(REGEX REPLACE "\\|.*" "" target "${library}")
  string(REGEX REPLACE ".*\\|" "" folder "${library}")
  find_path(page_headers_${target} ${folder} NO_CMAKE_FIND_ROOT_PATH PATHS /usr/include /usr/local/include REQUIRED)
  get_filename_component(name ${folder} NAME)
  file(CREATE_LINK ${page_headers_${target}}/${folder} ${headers}/${name} SYMBOLIC)
  add_library(${target} INTERFACE IMPORTED)
  target_include_directories(${target} SYSTEM INTERFACE ${headers})
endforeach()
add_library(Threads::Threads INTERFACE IMPORTED) # there is one thread

# Exceptions as the browser's own; vectors of 128 bits, in which the matrix library works as on every x86-64. There is no fused
# multiply-add: digits are nearest to those of a program of level 2.
set(page_options -fwasm-exceptions -msimd128 -msse2)
add_compile_options(${page_options} "SHELL:-include ${PROJECT_SOURCE_DIR}/cli/page/stand_ins.hpp" -I${PROJECT_SOURCE_DIR}
                    -Wno-shadow -Wno-sign-conversion) # joined sources are watched when compiled alone; of the second g++ is silent too
add_link_options(${page_options})

# Of a compiler that says it is GCC 4.2, as clang does, the matrix library thinks that it needs help in the assembler of x86-64.
# So many registers and so large a cache as there: which sums run in which order depends on them.
write_once(${headers}/mmintrin.h "") # asked for by the matrix library, which then needs nothing of it
write_once(${headers}/before_eigen.h "#include <Eigen/src/Core/util/Macros.h>\n#undef EIGEN_COMP_GNUC\n#define EIGEN_COMP_GNUC 63\n")
target_compile_options(Eigen3::Eigen INTERFACE "SHELL:-include ${headers}/before_eigen.h")
target_compile_definitions(Eigen3::Eigen INTERFACE EIGEN_ARCH_DEFAULT_NUMBER_OF_REGISTERS=16 EIGEN_DEFAULT_L1_CACHE_SIZE=32768
                                                   EIGEN_DEFAULT_L2_CACHE_SIZE=262144 EIGEN_DEFAULT_L3_CACHE_SIZE=2097152)

# add_page_module(): the module, from binding.cpp, once the rooms are there.
function(add_page_module)
  foreach(room IN ITEMS hollowtop_materials hollowtop_solver_once hollowtop_validation hollowtop_cli)
    target_compile_options(${room} PRIVATE -Os) # what is loaded counts more there than what is run
  endforeach()
  # Of an inline function that stands in several objects the linker keeps the first that it reads: those of what computes.
  add_executable(hollowtop_module cli/page/binding.cpp $<TARGET_OBJECTS:hollowtop_solver>)
  target_link_libraries(hollowtop_module PRIVATE hollowtop_cli)
  set_target_properties(hollowtop_module PROPERTIES SUFFIX .mjs)
  target_link_options(hollowtop_module PRIVATE
    -O2 -sMODULARIZE=1 -sEXPORT_ES6=1 -sUSE_ES6_IMPORT_META=0 -sENVIRONMENT=worker -sFILESYSTEM=1 -sFORCE_FILESYSTEM=1
    -sALLOW_MEMORY_GROWTH=1 -sINITIAL_MEMORY=32MB -sMAXIMUM_MEMORY=2GB -sTOTAL_STACK=8MB -sABORTING_MALLOC=0
    -sEXPORTED_FUNCTIONS=_hollowtop_run,_hollowtop_version,_hollowtop_memory,_malloc,_free -sEXPORTED_RUNTIME_METHODS=FS,setValue,UTF8ToString,stringToUTF8,lengthBytesUTF8
    -sINCOMING_MODULE_JS_API=instantiateWasm,stdin,stdout,stderr,print,printErr --no-entry)
endfunction()
