# Checks an evidence pack of the form witnessleaf-evidence/1.
#
# sh verify.sh [FOLDER] [SHA256 ...]
#
# FOLDER is the unpacked pack; left out, it is the folder of this file. Each SHA256 is one that you know from elsewhere:
# of the archive's key or of somebody's certificate. Nothing but a POSIX shell, openssl (3.0 or later) and sha256sum is
# needed; nothing is written. Exit status: 0 everything holds; 1 something does not hold; 2 nothing fails, but something
# could not be checked.
#
# Whoever does not trust this file takes another copy of it, or does by hand what README.txt says.

LC_ALL=C
export LC_ALL
set -u
unset CDPATH
case $0 in */*) folder=${0%/*} ;; *) folder=. ;; esac
known=' '
for word in "$@"; do
  case $word in
    *[!0-9a-f]* | '') folder=$word ;;
    *) [ "${#word}" -eq 64 ] && known="$known$word " || folder=$word ;;
  esac
done
cd -- "$folder" || exit 2
for tool in openssl sha256sum; do
  command -v "$tool" >/dev/null || { printf 'verify.sh: %s is needed\n' "$tool"; exit 2; }
done
[ -f MEMBERS ] || { printf 'verify.sh: this folder is no evidence pack: MEMBERS is missing\n'; exit 2; }

nl='
'
failed=0 open=0
holds() { printf 'holds          %s\n' "$1"; }
fails() { printf 'DOES NOT HOLD  %s: %s\n' "$1" "$2"; failed=$((failed + 1)); }
unchecked() { printf 'not checked    %s: %s\n' "$1" "$2"; open=$((open + 1)); }
say() { printf '\n%s\n' "$1"; }
# The SHA-256 of a file, in sum.
sum_of() { sum=$(sha256sum <"$1") && sum=${sum%% *}; }
# The SHA-256 of a certificate, in sum.
certificate_sum() { sum=$(openssl x509 -in "$1" -outform DER 2>/dev/null | sha256sum) && sum=${sum%% *}; }
# Hexadecimal digits as octal escapes of printf, in escaped.
escape() {
  escaped='' rest=$1
  while [ -n "$rest" ]; do
    after=${rest#??} byte=$((0x${rest%"${rest#??}"})) rest=$after
    escaped="$escaped\\$((byte >> 6))$((byte >> 3 & 7))$((byte & 7))"
  done
}
# Base64 as hexadecimal digits, in hex.
ALPHABET=ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/
digit() {
  case $1 in 10) hex=${hex}a ;; 11) hex=${hex}b ;; 12) hex=${hex}c ;; 13) hex=${hex}d ;; 14) hex=${hex}e ;;
    15) hex=${hex}f ;; *) hex=$hex$1 ;; esac
}
unbase64() {
  hex='' rest=${1%=} bits=0 have=0
  rest=${rest%=}
  while [ -n "$rest" ]; do
    after=${rest#?} before=${ALPHABET%%"${rest%"${rest#?}"}"*} rest=$after
    [ "${#before}" -lt 64 ] || { hex=''; return 1; }
    bits=$((bits << 6 | ${#before})) have=$((have + 6))
    [ "$have" -ge 8 ] || continue
    have=$((have - 8))
    digit $((bits >> have + 4 & 15))
    digit $((bits >> have & 15))
    bits=$((bits & (1 << have) - 1))
  done
}
# A hash of the log's tree over two others, in hash; each is made once.
node() {
  eval "hash=\${n_$1_$2-}"
  [ -z "$hash" ] || return 0
  escape "01$1$2"
  hash=$(printf "$escaped" | sha256sum)
  hash=${hash%% *}
  eval "n_$1_$2=\$hash"
}
# 2031-05-02T16:04:00Z as seconds since 1970, in seconds.
seconds_of() {
  case $1 in
    [12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]T[0-2][0-9]:[0-5][0-9]:[0-6][0-9]Z) ;;
    [12][0-9][0-9][0-9]-[01][0-9]-[0-3][0-9]T[0-2][0-9]:[0-5][0-9]:[0-6][0-9].[0-9][0-9][0-9]Z) ;;
    *) seconds=''; return 1 ;;
  esac
  year=${1%%-*} month=${1#?????} day=${1#????????} hour=${1#???????????} minute=${1#??????????????}
  month=${month%%-*} day=${day%%T*} hour=${hour%%:*} minute=${minute%%:*} seconds=${1#?????????????????}
  seconds=${seconds%Z}
  seconds=${seconds%%.*}
  month=${month#0} day=${day#0} hour=${hour#0} minute=${minute#0} seconds=${seconds#0}
  [ "$month" -gt 2 ] || { month=$((month + 12)) year=$((year - 1)); }
  day=$((365 * year + year / 4 - year / 100 + year / 400 + (153 * (month - 3) + 2) / 5 + day - 719469))
  seconds=$((86400 * day + 3600 * hour + 60 * minute + seconds))
}
# The number that a name is, without the zeros in front, in number. Names come from whoever made the pack.
plain() {
  number=''
  case $1 in '' | *[!0-9]* | ????????????????*) return 1 ;; esac
  number=$1
  while [ "${#number}" -gt 1 ]; do case $number in 0*) number=${number#0} ;; *) break ;; esac; done
}
# From path, a folder and an ending: the name between, and its number.
numbered() {
  name=${path#"$1"/}
  name=${name%"$2"}
  plain "${name%-*}" || { fails "$1" 'a name has no number'; return 1; }
}
# A text from the pack, made safe to print, in shown.
show() { case $1 in '' | *[!A-Za-z0-9._/:+-]*) shown='(a name with other characters)' ;; *) shown=$1 ;; esac; }
# What stands between two texts within a third, in part.
between() {
  part=''
  case $1 in *"$2"*"$3"*) part=${1#*"$2"} part=${part%%"$3"*} ;; *) return 1 ;; esac
}

say 'The members of the pack'
names=$nl sums=$nl count=0 wrong=0
while IFS= read -r line || [ -n "$line" ]; do
  name=${line#*  } listed=${line%%  *} what='the list MEMBERS'
  case $name in '' | *[!A-Za-z0-9._/-]* | /* | ./* | ../* | */../* | */.. | */./* | *//* | */)
    fails "$what" 'a line is not a hash and a plain name'; wrong=1; continue ;; esac
  case $names in *"$nl$name$nl"*) fails "$name" 'MEMBERS lists it twice'; wrong=1; continue ;; esac
  names=$names$name$nl sums="$sums$name $listed$nl" count=$((count + 1))
  if [ ! -f "$name" ] || [ -h "$name" ]; then fails "$name" 'it is missing'; wrong=1; continue; fi
  sum_of "$name"
  [ "$sum" = "$listed" ] || { fails "$name" 'other bytes than MEMBERS lists'; wrong=1; }
done <MEMBERS
[ "$wrong" -ne 0 ] || holds "all $count members are there, with the bytes that MEMBERS lists"

extra=0
search() {
  for path in "$1"* "$1".*; do
    case $path in */. | */.. | . | .. | MEMBERS | MEMBERS.seal | MEMBERS.seal.sig) continue ;; esac
    [ -e "$path" ] || [ -h "$path" ] || continue
    if [ -d "$path" ] && [ ! -h "$path" ]; then search "$path/"; continue; fi
    case $names in *"$nl$path$nl"*) ;; *) show "$path"; fails "$shown" 'MEMBERS does not list it'; extra=1 ;; esac
  done
}
search ''
[ "$extra" -ne 0 ] || holds 'there is no other file'

say 'The archive and its key'
dash=$(printf '\342\200\224') origin='' key_line='' s1='' s2='' s3='' s4='' s5='' t1='' t2='' t3='' t4=''
IFS= read -r key_line <archive/key.txt 2>/dev/null
origin=${key_line%%+*} key_id=${key_line#*+} pem=''
key_id=${key_id%%+*}
unbase64 "${key_line#*+*+}"
key_hex=${hex#01}
while IFS= read -r line; do case $line in -----*) ;; *) pem=$pem$line ;; esac; done <archive/key.pem 2>/dev/null
unbase64 "$pem"
# RFC 8410: what stands before the 32 bytes of an Ed25519 key.
if [ "${#key_hex}${#key_id}" = 648 ] && [ "$hex" = "302a300506032b6570032100$key_hex" ]; then
  escape "0a01$key_hex"
  id=$(printf "%s$escaped" "$origin" | sha256sum)
  case $id in "$key_id"*) show "$origin"; holds "archive/key.pem and archive/key.txt are one key, of $shown" ;;
    *) fails archive/key.txt 'the number of the key does not belong to it' ;; esac
else fails archive/key.pem 'it is not the key of archive/key.txt'; fi
# Whether the archive signed a file.
signed() { openssl pkeyutl -verify -pubin -inkey archive/key.pem -rawin -in "$1" -sigfile "$2" >/dev/null 2>&1; }
{ IFS= read -r s1; IFS= read -r s2; IFS= read -r s3; IFS= read -r s4; IFS= read -r s5; } <MEMBERS.seal
sum_of MEMBERS
if ! signed MEMBERS.seal MEMBERS.seal.sig; then
  fails 'MEMBERS.seal with MEMBERS.seal.sig' 'not signed with the key of the archive'
elif [ "$s1|$s2|$s4|$s5" != "witnessleaf-evidence/1 members|$origin|$sum|" ]; then
  fails MEMBERS 'it is not the list that MEMBERS.seal names'
else show "$s3"; holds "MEMBERS is as the archive made it, on $shown"; fi

# Opens heads/NAME.note into head_size and head_root.
open_head() {
  n=0 h1='' h2='' h3='' h4='' h5=''
  while IFS= read -r line; do
    n=$((n + 1))
    case $n in 1) h1=$line ;; 2) h2=$line ;; 3) h3=$line ;; 4) h4=$line ;; *)
      # U+2014, the name and the signature; of witnesses there may be others.
      case $line in "$dash $origin "*) [ -n "$h5" ] || h5=$line ;; esac ;; esac
  done <"heads/$1.note" 2>/dev/null
  [ "$n" -ge 5 ] || { fails "heads/$1.note" 'it is not a signed head'; return 1; }
  { IFS= read -r t1; IFS= read -r t2; IFS= read -r t3; IFS= read -r t4; } <"heads/$1.signed"
  unbase64 "$(openssl base64 -A -in "heads/$1.sig")"
  raw=$hex
  unbase64 "${h5##* }"
  if [ "$h1|$h2|$h3|$h4" != "$t1|$t2|$t3|" ] || [ -n "$t4" ] || [ "$hex" != "$key_id$raw" ]; then
    fails "heads/$1.note" "heads/$1.signed and heads/$1.sig are not its text and signature"
  elif ! signed "heads/$1.signed" "heads/$1.sig"; then fails "heads/$1.note" 'not signed with the key of the archive'
  elif ! unbase64 "$h3" || [ "$h1|$h2|${#hex}" != "$origin|$number|64" ]; then
    fails "heads/$1.note" 'of another log, or of another size than its name says'
  else
    head_size=$h2 head_root=$hex
    return 0
  fi
  return 1
}
newest='' size=0 root=''
for path in heads/*.note; do [ -e "$path" ] || break
  numbered heads .note && open_head "$name" && {
    holds "$path is signed by the archive: $head_size entries"
    eval "r_$head_size=\$head_root"
    [ "$head_size" -lt "$size" ] || { newest=$name size=$head_size root=$head_root; }
  }
done
[ -n "$newest" ] || fails 'heads' 'there is no signed head'

say 'The log'
# One level up in the tree, and over the levels where nothing stands beside.
up() { first=$((first / 2)) last=$((last / 2)); }
edge() { while [ $((first % 2)) -eq 0 ] && [ "$first" -ne 0 ]; do up; done; }
# Whether an entry's hash leads to the root. RFC 9162 2.1.3.2.
included() {
  hash=$2 first=$1 last=$((size - 1))
  [ "$first" -le "$last" ] || return 1
  for sibling in $3; do
    [ "$last" -gt 0 ] || return 1
    if [ $((first % 2)) -eq 1 ] || [ "$first" -eq "$last" ]; then
      node "$sibling" "$hash"
      edge
    else node "$hash" "$sibling"; fi
    up
  done
  [ "$last" -eq 0 ] && [ "$hash" = "$root" ]
}
# Whether the log begins with an earlier one. RFC 9162 2.1.4.2.
continues() {
  old=$1 old_root=$2 proof=$3
  [ "$old" -gt 0 ] && [ "$old" -lt "$size" ] || return 1
  first=$((old - 1)) last=$((size - 1)) power=1
  while [ "$power" -lt "$old" ]; do power=$((power * 2)); done
  [ "$power" -ne "$old" ] || proof="$old_root $proof"
  while [ $((first % 2)) -eq 1 ]; do up; done
  was='' is=''
  for sibling in $proof; do
    if [ -z "$is" ]; then was=$sibling is=$sibling; continue; fi
    [ "$last" -gt 0 ] || return 1
    if [ $((first % 2)) -eq 1 ] || [ "$first" -eq "$last" ]; then
      node "$sibling" "$was"; was=$hash
      node "$sibling" "$is"; is=$hash
      edge
    else node "$is" "$sibling"; is=$hash; fi
    up
  done
  [ "$last" -eq 0 ] && [ "$was" = "$old_root" ] && [ "$is" = "$root" ]
}
# The lines of a proof up to the empty one, as hexadecimal digits, in proof; the two first lines in p1 and p2.
read_proof() {
  proof='' p1='' p2='' n=0
  while IFS= read -r row && [ -n "$row" ]; do
    n=$((n + 1))
    case $n in 1) p1=$row ;; 2) p2=$row ;; *)
      unbase64 "$row" && [ "${#hex}" -eq 64 ] || return 1
      proof="$proof $hex" ;; esac
  done <"$1" 2>/dev/null
  [ "$n" -ge 2 ] && [ "$n" -le 66 ]
}
entries='' fine=0
for path in log/*.entry; do
  [ -e "$path" ] || { fails log 'there is no entry'; break; }
  numbered log .entry || continue
  line=''
  IFS= read -r line <"$path"
  sum_of "$path"
  leaf=$(printf '%s' "$line" | sha256sum)
  [ "${leaf%% *}" = "$sum" ] || { fails "$path" 'it is not one line without an end'; continue; }
  leaf=$(printf '\000%s' "$line" | sha256sum)
  if ! read_proof "log/$name.tlog-proof" || [ "$p1|$p2" != "c2sp.org/tlog-proof@v1|index $number" ]; then
    fails "log/$name.tlog-proof" 'it is not a proof of this entry'
  elif ! included "$number" "${leaf%% *}" "$proof"; then
    fails "$path" "its proof does not lead to the head of $size entries"
  else
    fine=$((fine + 1)) entries="$entries$number $line$nl"
    case $line in *'"kind":"statement"'*) [ -f "statements/$name.json" ] ||
      fails "statements/$name.json" 'it is missing, but the log has an entry for it' ;; esac
  fi
done
[ "$fine" -eq 0 ] || holds "$fine entries are in the log of $size entries"

for path in heads/*.consistency; do [ -e "$path" ] || break
  numbered heads .consistency || continue
  if ! read_proof "$path" || [ "$p1 ${p2%% *}" != "witnessleaf-consistency/1 $number" ]; then
    fails "$path" 'it is not a proof from this head'
  elif unbase64 "${p2#* }" && continues "$number" "$hex" "$proof"; then
    unbase64 "${p2#* }"
    eval "b_$number=\$hex before=\${r_$number-\$hex}"
    [ "$before" = "$hex" ] || { fails "$path" 'the archive signed another head of this size'; continue; }
    holds "the log of $size entries begins with the one of $number"
  else fails "$path" "the log of $size entries does not begin with that of $number"; fi
done
[ -z "$newest" ] || eval "b_$size=\$root"

# The entry with this number, in entry.
entry_of() { entry=''; between "$nl$entries" "$nl$1 " "$nl" && entry=$part; }
say 'The certificates'
for path in certificates/*.pem; do [ -e "$path" ] || break
  certificate_sum "$path"
  if [ "certificates/$sum.pem" = "$path" ]; then holds "$path is the certificate of this SHA-256"
  else fails "$path" 'another certificate than its name says'; fi
done

say 'The statements'
revoked=' '
for path in statements/*.json; do [ -e "$path" ] || break
  text=''
  IFS= read -r text <"$path"
  case $text in *'"kind":"revocation"'*)
    between "$text" '"from":"' '"' && seconds_of "$part" && from=$seconds &&
      between "$text" '"sha256":"' '"' && revoked="$revoked$part=$from " ;; esac
done
for path in statements/*.json; do
  [ -e "$path" ] || { holds 'there is none'; break; }
  numbered statements .json || continue
  index=$number text=''
  IFS= read -r text <"$path"
  # Members stand in alphabetical order, and what a person may have written comes behind these.
  whole=$text text=${text%%',"subject":{'*}
  between "$text" '{"at":"' '"'; at=$part
  between "$text" ',"kind":"' '"'; kind=$part
  between "$text" '"signer":{"certificate":"' '"'; certificate=$part
  between "$text" '"root":"' '"'; seen_root=$part
  between "$text" '"size":' '}'; seen=$part
  case $kind in *[!a-z-]* | '') kind='statement' ;; esac
  plain "$seen" && [ "$number" = "$seen" ] || seen=none
  what="$path ($kind, $at)"
  seconds_of "$at" || { fails "$path" 'it is not a statement'; continue; }
  pin=certificates/$certificate.pem
  case $certificate in *[!0-9a-f]* | '') fails "$what" 'it names no certificate'; continue ;; esac
  if [ ! -f "$pin" ]; then fails "$what" "the certificate that it names is missing: $pin"
  elif openssl cms -verify -binary -inform DER -in "statements/$name.p7s" -content "$path" -nointern -certfile "$pin" \
    -CAfile "$pin" -no-CApath -no-CAstore -partial_chain -purpose any -cades -attime "$seconds" \
    -out /dev/null >/dev/null 2>&1
  then holds "$what: signed with the certificate that it names"
  else fails "$what" "statements/$name.p7s is no signature on it with the certificate that it names"; fi
  entry_of "$index"
  sum_of "$path"; content=$sum
  sum_of "statements/$name.p7s"
  line=$(printf '%s' "$whole" | sha256sum)
  [ "${line%% *}" = "$content" ] || fails "$what" 'it is not one line without an end'
  case $entry in '') fails "$what" 'there is no entry of the log for it' ;;
    *'"kind":"statement"'*"\"$content\""*"\"$sum\""* | *'"kind":"statement"'*"\"$sum\""*"\"$content\""*)
      holds "$what: entry $index of the log names it" ;;
    *) fails "$what" "entry $index of the log names other bytes" ;; esac
  eval "begin=\${b_$seen-}"
  if [ "$seen" = 0 ]; then begin=e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855; fi
  if [ -z "$begin" ]; then fails "$what" 'there is no proof from the head that its signer saw'
  elif [ "$begin" != "$seen_root" ]; then fails "$what" 'its signer saw another log'
  elif [ "$seen" -gt "$index" ]; then fails "$what" 'its signer saw a log in which it already stood'
  else holds "$what: its signer saw this log, when it had $seen entries"; fi
  between "$entry" '{"at":"' '"' && seconds_of "$part" && came=$seconds || came=''
  # Who revokes a certificate may sign that with it.
  [ "$kind" != revocation ] || continue
  case $revoked in *" $certificate="*)
    between "$revoked" " $certificate=" ' '
    if [ -n "$came" ] && [ "$came" -lt "$part" ]; then holds "$what: it came in before its certificate was revoked"
    else fails "$what" 'its certificate was revoked when it came in'; fi ;; esac
done
say 'What the log names'
for path in files/*.* reports/*/report.json; do [ -e "$path" ] || continue
  between "$sums" "$nl$path " "$nl" || continue
  sum=$part
  case $path in files/"$sum".*) ;; files/*) fails "$path" 'other bytes than its name says'; continue ;; esac
  case $entries in *"\"sha256\":\"$sum\""*) holds "$path: an entry of the log names it" ;;
    *) fails "$path" 'no entry of the log names it' ;; esac
done

say 'The time-stamps'
stamped=0
for path in time-stamps/*.tst; do [ -e "$path" ] || break
  stamped=1
  numbered time-stamps .tst || continue
  eval "begin=\${b_$number-} before=\${r_$number-}"
  [ -n "$begin" ] && [ "$begin" = "$before" ] ||
    { fails "$path" 'there is no signed head for it that the log continues'; continue; }
  between "$(openssl ts -reply -in "$path" -token_in -text 2>/dev/null)" 'Time stamp: ' ' GMT' || part=''
  time=$part
  set -f; set -- $time; set +f
  month=JanFebMarAprMayJunJulAugSepOctNovDec
  month=${month%%"${1-none}"*} clock=${3-}
  month=0$((${#month} / 3 + 1)) day=0${2-}
  seconds_of "${4-}-${month#"${month%??}"}-${day#"${day%??}"}T${clock%%.*}Z" ||
    { fails "$path" 'it is not a time-stamp'; continue; }
  if [ ! -f "time-stamps/$name.pem" ]; then
    unchecked "$path ($time GMT)" 'the pack has no certificate of its authority'
  elif openssl ts -verify -data "heads/${name%-*}.note" -in "$path" -token_in -CAfile "time-stamps/$name.pem" \
    -partial_chain -attime "$seconds" >/dev/null 2>&1
  then holds "$path: the log had its first $number entries on $time GMT"
  else fails "$path" "it does not stamp heads/${name%-*}.note, or another authority made it"; fi
done
[ "$stamped" -eq 1 ] || printf 'There are none: times are those of the archive and of the signers.\n'

say 'For you to compare'
printf 'All of this rests on these being whose they are said to be. Ask each of them, by a way other than this pack.\n'
compare() { case $known in *" $1 "*) printf 'known to you   ' ;; *) printf 'compare        ' ;; esac; printf '%s  %s\n' "$@"; }
show "$origin"
compare "$key_hex" "key of the archive $shown"
for path in certificates/*.pem time-stamps/*.pem; do [ -e "$path" ] || continue
  certificate_sum "$path"
  subject=$(openssl x509 -in "$path" -noout -subject -nameopt RFC2253,-esc_msb 2>/dev/null)
  case $path in time-stamps/*) subject="time-stamps: ${subject#subject=}" ;; esac
  compare "$sum" "${subject#subject=}"
done
if [ "$failed" -gt 0 ]; then say "$failed checks DO NOT HOLD. Do not rely on this pack."; exit 1; fi
if [ "$open" -gt 0 ]; then say "Nothing fails; $open checks could not be made."; exit 2; fi
say 'Everything holds.'
