# embed_assets(<folder> <output>): writes an assembler file that holds every file of the folder and a table of them.
# The assembler copies bytes as they are, so large files cost no compile time.
function(embed_assets folder output)
  file(GLOB_RECURSE files RELATIVE ${folder} CONFIGURE_DEPENDS ${folder}/*)
  set(data "")
  set(table "")
  set(count 0)
  set(depends "")
  foreach(file IN LISTS files)
    string(APPEND data "path_${count}: .asciz \"/${file}\"\n.balign 16\ndata_${count}: .incbin \"${folder}/${file}\"\nend_${count}: .byte 0\n")
    string(APPEND table ".quad path_${count}, data_${count}, end_${count}\n")
    list(APPEND depends ${folder}/${file})
    math(EXPR count "${count} + 1")
  endforeach()
  file(CONFIGURE OUTPUT ${output} @ONLY CONTENT
".section .rodata
@data@
.section .data.rel.ro, \"aw\"
.balign 8
.global rollwright_asset_table
rollwright_asset_table:
@table@
.global rollwright_asset_count
.balign 8
rollwright_asset_count: .quad @count@
.section .note.GNU-stack,\"\",%progbits
")
  set_source_files_properties(${output} PROPERTIES OBJECT_DEPENDS "${depends}")
endfunction()
