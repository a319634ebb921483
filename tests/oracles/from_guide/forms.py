"""Small packs for the forms of the language that say more: kinds, degrees, what is worked out, …

The name of each pack begins with its form.
"""

HEAD = """House rules for a trial, version 1.
Unless we say otherwise, a fault is there on its own: rarely.
Unless we say otherwise, a sign is there on its own: hardly ever.
"""

PACKS = {}

PACKS["kinds"] = HEAD + """
Pieces: trunklet, bundlet.
Parts: lidlet, slidlet, peglet.
A bundlet is a kind of trunklet.
A slidlet is a kind of lidlet.
A trunklet has 2 lidlets (from the top).
A bundlet has a lidlet and 2 slidlets.
A lidlet has 2 peglets (left, right).
A slidlet has no peglets.
You can feel whether a lidlet is stiffish.  On its own: in 2 of 10 cases  Slip: 3 in 100
You can feel whether a slidlet is stiffish.  Slip: 6 in 100
A lidlet may be racky without showing it.  On its own: in 1 of 10 cases
A slidlet may be racky without showing it.  On its own: in 3 of 10 cases
You can see whether a trunklet is tipsy.  On its own: in 1 of 10 cases
You can see whether a peglet is worn-down.  On its own: in 2 of 10 cases
You can see whether a trunklet is creaky.
You can see whether a slidlet is loosish.
If any peglet of a lidlet is worn-down then the lidlet is often racky.  From: house
If a lidlet is racky then it is usually stiffish.  From: house
If any lidlet of a trunklet is racky then the trunklet is often tipsy.  From: house
If at least two lidlets of a trunklet are racky then the trunklet is often creaky.  From: house
If a slidlet is racky then it is sometimes loosish.  From: house
If every peglet of a lidlet is worn-down then its trunklet is sometimes creaky.  From: house
If a bundlet is creaky then its slidlets are sometimes loosish.  From: house
order: bundlet
found:
found: slidlet 1 is stiffish
found: lidlet 1 is stiffish; slidlet 2 is racky
found: bundlet is tipsy; left peglet of lidlet 1 is worn-down
found: trunklet is creaky; every lidlet is not stiffish
found: slidlet 2 looks loosish; bundlet is certainly creaky
order: trunklet
found:
found: lidlet 1 is stiffish; trunklet is tipsy
found: lidlet 2 is racky; left peglet of lidlet 1 is certainly worn-down
"""

PACKS["kinds of kinds"] = HEAD + """
Pieces: trunklet.
Pieces: bundlet.
Pieces: fundlet.
Parts: lidlet, peglet, dowlet, spindlet.
A bundlet is a kind of trunklet.
A fundlet is a kind of bundlet.
A dowlet is a kind of peglet.
A spindlet is a kind of dowlet.
A trunklet has a lidlet and 3 peglets (from the left).
A bundlet has 2 dowlets and a peglet.
A fundlet has 2 spindlets.
You can measure how much a peglet is worn, in mm, from 0 to 15.  Reads to: 0.5 mm
A peglet counts as hollowish when it is worn at least 4 mm.  On its own: in 1 of 10 cases
A peglet counts as spent when it is worn at least 9 mm.
You can see which hue a peglet has: reddish, greenish or bluish.
A trunklet may be racky without showing it.  On its own: in 2 of 10 cases
A fundlet may be racky without showing it.  On its own: in 4 of 10 cases
You can see whether a peglet is foxed.  On its own: in 1 of 10 cases
You can see whether a dowlet is foxed.  On its own: in 2 of 10 cases
You can see whether a spindlet is foxed.  Slip: 8 in 100
You can count the peglets of a trunklet.
You can see whether a trunklet is oddish.
You can hear whether a lidlet is creaky.
If a trunklet is racky then its peglets are often hollowish.  From: house
If a dowlet is hollowish then it is usually foxed.  From: house
If a peglet is bluish then it is sometimes foxed.  From: house
If the leftmost peglet of a trunklet is foxed then its lidlet is often creaky.  From: house
If a bundlet is racky then its lidlet is sometimes creaky.  From: house
If a dowlet is bluish and any other peglet is foxed then its trunklet is sometimes oddish.  From: house
order: trunklet
found:
found: peglet 1 is foxed; peglet 2 is worn 5 mm
order: bundlet
found:
found: dowlet 1 is foxed; bundlet is racky
found: peglet 1 is worn 6 mm; dowlet 2 is worn 3 mm; dowlet 2 is bluish
order: fundlet
found:
found: spindlet 2 is foxed
found: lidlet is creaky; spindlet 1 is worn 10 mm
"""

PACKS["kinds mean"] = HEAD + """
Pieces: trunklet, bundlet.
Parts: lidlet, slidlet.
A bundlet is a kind of trunklet.
A slidlet is a kind of lidlet.
A trunklet has 2 lidlets.
A bundlet has a lidlet and a slidlet.
You can hear whether a lidlet is creaky.  On its own: in 1 of 10 cases
A lidlet may be racky without showing it.  On its own: in 2 of 10 cases
A slidlet may be racky without showing it.  On its own: in 3 of 10 cases
A trunklet may be askew without showing it.  On its own: in 2 of 10 cases
You can see whether a trunklet is tipsy.
If a bundlet is askew then its lidlets are sometimes racky.  From: house
If a lidlet is creaky, that usually means it is racky.  From: house
If a trunklet is tipsy, that often means it is askew.  From: house
A slidlet can be racky only if its trunklet is askew.  From: house
order: bundlet
found:
found: slidlet is creaky
found: lidlet 1 is creaky
found: bundlet is tipsy; slidlet is certainly creaky
order: trunklet
found:
found: lidlet 1 is creaky; trunklet is tipsy
found: trunklet is askew
"""

PACKS["degrees"] = HEAD + """
Pieces: trunklet.
Parts: lidlet.
A trunklet has 2 lidlets.
You can see how badly a lidlet is lifted: slightly, noticeably, strongly or badly.  On its own: in 3 of 10 cases  Slip: 6 in 100
You can see how dirty a trunklet is: slightly or very.  On its own: in 25 of 100 cases
A lidlet may be unglued without showing it.  On its own: in 2 of 10 cases
A trunklet may be damp without showing it.  On its own: in 15 of 100 cases
You can see whether a trunklet is tipsy.
You can see whether a lidlet is dull.
You can see whether a lidlet is rubbed.
You can see whether a lidlet is matt.
If a lidlet is unglued then it is usually strongly lifted.  From: house
If a trunklet is damp then its lidlets are often lifted.  From: house
If a trunklet is damp then it is sometimes dirty.  From: house
If a lidlet is badly lifted then it is usually dull.  From: house
If a lidlet is slightly lifted then it is often rubbed.  From: house
If a lidlet is at least noticeably lifted then its trunklet is sometimes tipsy.  From: house
If a lidlet is more than slightly lifted then it is sometimes matt unless its trunklet is very dirty.  From: house
If a lidlet is not badly lifted then it is in 1 of 10 cases rubbed.  From: house
If a lidlet is at most noticeably lifted and its trunklet is not dirty then it is in 1 of 5 cases dull.  From: house
If a lidlet is less than noticeably lifted then it is in 7 of 100 cases matt.  From: house
order: trunklet
found:
found: lidlet 1 is noticeably lifted
found: lidlet 1 is lifted; lidlet 2 is not lifted
found: lidlet 1 looks badly lifted; lidlet 2 looks lifted
found: lidlet 1 is certainly noticeably lifted; trunklet is certainly dirty
found: lidlet 1 is at least noticeably lifted; lidlet 2 is not badly lifted
found: lidlet 1 is certainly not lifted; lidlet 2 is less than strongly lifted
found: lidlet 1 does not look lifted; trunklet is very dirty
found: lidlet 1 is more than slightly lifted; lidlet 2 is at most strongly lifted
found: lidlet 1 is dull; trunklet looks slightly dirty
found: lidlet 1 is slightly lifted; lidlet 1 is badly lifted
found: lidlet 1 is not badly lifted; lidlet 1 is rubbed
"""

PACKS["degrees mean"] = HEAD + """
Pieces: trunklet.
You can see how badly a trunklet is lifted: slightly, noticeably or badly.  On its own: in 3 of 10 cases  Slip: 4 in 100
You can see how badly a trunklet is stained: slightly, noticeably or badly.  On its own: in 2 of 10 cases  Slip: 6 in 100
You can see how badly a trunklet is bent: slightly or badly.  On its own: in 3 of 10 cases
A trunklet may be racky without showing it.  On its own: in 2 of 10 cases
A trunklet may be damp without showing it.  On its own: in 15 of 100 cases
A trunklet may be sour without showing it.
If a trunklet is badly lifted, that usually means it is racky.  From: house
If a trunklet is damp then it is sometimes lifted.  From: house
If a trunklet is stained, that often means it is damp.  From: house
If a trunklet is bent, that in 7 of 10 cases means it is sour.  From: house
If a trunklet is sour then it is sometimes bent.  From: house
order: trunklet
found:
found: trunklet is badly lifted
found: trunklet is stained
found: trunklet is bent
found: trunklet is noticeably lifted; trunklet is slightly stained
found: trunklet is racky; trunklet is damp; trunklet is sour
found: trunklet is not racky; trunklet is not damp; trunklet is not sour
found: trunklet is not badly lifted; trunklet looks badly stained
found: trunklet is not bent; trunklet is not stained
"""

PACKS["worked out"] = HEAD + """
Pieces: stoolet.
Parts: leglet, topling, raillet.
A stoolet has two leglets (left, right), a topling and 3 raillets.
You can measure how high a leglet is, in mm, from 0 to 900.  Reads to: 1 mm
You can measure how wide a topling is, in mm, from 100 to 600.  Reads to: 1.5 mm
You can measure how wide a topling is split, in mm, from 0 to 20.
You can measure how much a raillet is worn, in mm, from 0 to 15.  Reads to: 0.5 mm
How far a stoolet is askew is the difference between how high its left leglet is and how high its right leglet is.
    On its own: in 3 of 10 cases
How far a stoolet is worn in all is the sum of how much its raillets are worn.
How far a stoolet is worn furthest is the largest of how much its raillets are worn.
How far a stoolet is worn nearest is the smallest of how much its raillets are worn.  Reads to: 0.25 mm
How much a topling is gaping is how wide it is split, as a share of how wide it is.
A stoolet counts as crooked when it is askew at least 10 mm.  On its own: in 1 of 10 cases
A stoolet counts as worn-out when it is worn in all at least 12 mm.
A stoolet counts as hollowed when it is worn furthest at least 5 mm.
A stoolet counts as rubbed when it is worn nearest at least 2 mm.
A topling counts as riven when it is gaping at least 2 %.
A stoolet may be twisted without showing it.  On its own: in 2 of 10 cases
A stoolet may be tired without showing it.  On its own: in 2 of 10 cases
A topling may be dried without showing it.
If a stoolet is twisted then it is usually crooked.  From: house
If a stoolet is tired then it is often worn-out.  From: house
If a stoolet is tired then it is often hollowed.  From: house
If a stoolet is tired then it is sometimes rubbed.  From: house
If a topling is dried then it is often riven.  From: house
order: stoolet
found:
found: left leglet is 450 mm high
found: left leglet is 450 mm high; right leglet is 441 mm high
found: left leglet is 450 mm high; right leglet is 461 mm high; topling is 500 mm wide
found: topling is 500 mm wide; topling is split 9 mm wide
found: topling is split 11 mm wide; topling is 500 mm wide
found: raillet 1 is worn 4 mm; raillet 2 is worn 3 mm
found: raillet 1 is worn 4 mm; raillet 2 is worn 3 mm; raillet 3 is worn 4.5 mm
found: raillet 1 is worn 5.5 mm; raillet 2 is worn 2 mm; raillet 3 is worn 5 mm
"""

PACKS["times"] = HEAD + """
Pieces: trunklet.
Parts: lidlet.
A trunklet has 2 lidlets.
You can ask how long ago a trunklet was moved, in months, from 0 to 600.  Reads to: 1 week  On its own: always
You can ask how long a lidlet has stood open, in weeks, from 0 to 52.  Reads to: 3 days
You can ask how old a trunklet is, in years, from 0 to 400.  Reads to: 5 years  On its own: always
You can ask which season a trunklet has: springtime, summer, autumn or winter.
A trunklet counts as elderly when it is at least 120 years old.  On its own: in 3 of 10 cases
A trunklet may be unsettled without showing it.
A trunklet may be brittle without showing it.
A trunklet may be repaired without showing it.  On its own: in 2 of 10 cases
A lidlet may be warped without showing it.
A lidlet may be dried without showing it.
If a trunklet was moved less than 6 weeks ago then it is often unsettled.  From: house
If a trunklet was moved within the last year and its season is winter then it is sometimes brittle.  From: house
If a lidlet has stood open for at least 3 weeks then it is often warped.  From: house
If a lidlet has stood open for more than 10 days then it is sometimes dried unless its trunklet was moved within the last 2 weeks.  From: house
If a trunklet is repaired then it is sometimes elderly.  From: house
If a trunklet is more than 200 years old then it is often brittle.  From: house
order: trunklet
found:
found: trunklet was moved 3 weeks ago
found: trunklet was moved a year ago; season of trunklet is winter
found: trunklet was moved 7 weeks ago; lidlet 1 has stood open for 3 weeks
found: lidlet 1 has stood open for 12 days; lidlet 2 has stood open for 1 day
found: trunklet is 118 years old
found: trunklet is 202 years old; trunklet is summer; trunklet is brittle
found: trunklet is elderly; lidlet 2 is warped
"""

PACKS["at least so many"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet.
A trunklet has 2 lidlets.
A lidlet has 2 peglets.
You can see whether a lidlet is foxed.  On its own: in 2 of 10 cases
You can see whether a lidlet is dented.  On its own: in 3 of 10 cases
You can see whether a peglet is gritty.  On its own: in 2 of 10 cases
You can see whether a trunklet is heated.  On its own: in 3 of 10 cases
You can see whether a trunklet is tipsy.
A lidlet may be racky without showing it.
A lidlet may be torpid without showing it.
If at least two of these are true of a lidlet:
    - it is foxed
    - it is not dented
    - any of its peglets is gritty
    then it is often racky.
    From: house
If at least 3 of these are true of a lidlet:
    - it is foxed
    - it is dented
    - its trunklet is heated
    - it is racky and its trunklet is not heated
    then its trunklet is usually tipsy
    unless it is torpid.
    From: house
If all of these are true of a lidlet:
    - it is foxed or it is dented
    - at least two of these are true:
        - it is dented
        - its trunklet is heated
        - every peglet is gritty
    then it is sometimes torpid.
    From: house
order: trunklet
found:
found: lidlet 1 is foxed; lidlet 1 is dented
found: lidlet 1 is racky; lidlet 2 is not dented
found: trunklet is tipsy; trunklet is heated
found: lidlet 1 is torpid; peglet 1 of lidlet 1 is gritty
found: trunklet is not heated; trunklet is tipsy; lidlet 2 is certainly dented
"""

PACKS["together"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet.
A trunklet has 2 lidlets.
A lidlet has 2 to 3 peglets (usually 3).
You can see whether a lidlet is leaning.  On its own: in 1 of 10 cases
You can feel whether a lidlet is swaying.  On its own: in 2 of 10 cases  Slip: 4 in 100
You can hear whether a lidlet is creaky.  On its own: in 1 of 10 cases
You can see whether a lidlet is foxed.  On its own: in 1 of 10 cases
You can see whether a lidlet is dented.  On its own: in 1 of 10 cases
You can see whether a peglet is gritty.  On its own: in 1 of 10 cases
You can see whether a trunklet is heated.  On its own: in 3 of 10 cases
A lidlet may be racky without showing it.  On its own: in 2 of 10 cases
A lidlet may be torpid without showing it.  On its own: in 1 of 10 cases
A lidlet may be loosish without showing it.  On its own: in 2 of 10 cases
If a lidlet is leaning and it is swaying, that usually means it is racky.  From: house
If at least two of these are true of a lidlet:
    - it is creaky
    - it is foxed
    - it is dented
    that in 7 of 10 cases means it is torpid.
    From: house
If at least two peglets of a lidlet are gritty, that often means the lidlet is loosish.  From: house
If a trunklet is heated then its lidlets are sometimes leaning.  From: house
order: trunklet
found:
found: lidlet 1 is leaning; lidlet 1 is swaying
found: lidlet 1 is leaning
found: lidlet 1 is creaky; lidlet 1 is foxed; lidlet 1 is not dented
found: peglet 1 of lidlet 1 is gritty; peglet 2 of lidlet 1 is gritty; peglet 3 of lidlet 1 is not gritty
found: lidlet 1 is racky; lidlet 1 is torpid; lidlet 1 is loosish
found: lidlet 1 is not racky; lidlet 1 is not torpid; lidlet 1 is not loosish
"""

PACKS["together both"] = HEAD + """
Pieces: trunklet.
You can see whether a trunklet is leaning.  On its own: in 1 of 10 cases
You can feel whether a trunklet is swaying.  On its own: in 2 of 10 cases
You can hear whether a trunklet is creaky.  On its own: in 1 of 10 cases
You can see whether a trunklet is foxed.  On its own: in 1 of 10 cases
A trunklet may be racky without showing it.  On its own: in 2 of 10 cases
A trunklet may be torpid without showing it.  On its own: in 1 of 10 cases
If a trunklet is leaning and it is swaying, that in 7 of 10 cases means it is racky.  From: house
If a trunklet is leaning, that in 4 of 10 cases means it is racky.  From: house
If a trunklet is creaky or it is foxed, that in 3 of 10 cases means it is torpid.  From: house
If a trunklet is torpid then it is sometimes foxed.  From: house
order: trunklet
found:
found: trunklet is leaning
found: trunklet is leaning; trunklet is swaying
found: trunklet is not leaning; trunklet is swaying
found: trunklet is racky; trunklet is torpid
found: trunklet is not racky; trunklet is not torpid
found: trunklet is creaky; trunklet is not foxed
found: trunklet is foxed
"""

PACKS["one of"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet.
A trunklet has 2 lidlets.
A lidlet has 2 peglets.
You can smell whether a trunklet is sour.  On its own: in 5 of 10 cases
You can see whether a lidlet is lifted.  On its own: in 1 of 10 cases
You can see whether a lidlet is blistered.
You can see whether a lidlet is dark.  On its own: in 2 of 10 cases
A lidlet may be racky without showing it.
A peglet may be sprung without showing it.
A peglet may be rotten without showing it.
A peglet may be worn-down without showing it.
If a trunklet is sour then its lidlets are usually lifted or blistered.  From: house
If a lidlet is dark and it is not lifted then its peglets are often sprung or rotten or worn-down unless its trunklet is sour.  From: house
You can see whether a lidlet is tipsy.
If any peglet of a lidlet is rotten then it is sometimes tipsy or racky.  From: house
If a peglet is sprung then its lidlet is sometimes racky.  From: house
order: trunklet
found:
found: trunklet is certainly sour
found: lidlet 1 is certainly not lifted; trunklet is sour
found: lidlet 1 is lifted; lidlet 1 is blistered
found: lidlet 2 is dark; lidlet 2 is not lifted
found: peglet 1 of lidlet 1 is rotten; peglet 1 of lidlet 2 is not sprung
found: lidlet 1 is tipsy; lidlet 1 is dark
"""

PACKS["at most one"] = HEAD + """
Pieces: trunklet.
Parts: lidlet.
A trunklet has 2 lidlets.
You can see whether a lidlet is lifted.  On its own: in 1 of 10 cases
You can see whether a lidlet is blistered.  On its own: in 2 of 10 cases
You can see whether a lidlet is dark.  On its own: in 2 of 10 cases
You can see whether a lidlet is groovy.  On its own: in 6 of 10 cases
A lidlet may be inked without showing it.  On its own: in 2 of 10 cases
A lidlet may be burnt without showing it.  On its own: in 4 of 10 cases
A lidlet may be limed without showing it.
A trunklet may be odd without showing it.
A trunklet may be even without showing it.
A lidlet is at most one of inked, burnt or limed.  From: house
A lidlet is at most one of lifted or blistered.  From: house
A lidlet can be burnt only if it is groovy.  From: house
If a trunklet is odd then its lidlets are often lifted.  From: house
If a lidlet is limed then it is usually blistered.  From: house
If a lidlet is inked then it is by definition dark.  From: house
If a lidlet is burnt then it is sometimes dark.  From: house
If a trunklet is even then its lidlets are sometimes limed or burnt.  From: house
order: trunklet
found:
found: lidlet 1 is dark
found: lidlet 1 is certainly not dark; lidlet 2 is lifted
found: lidlet 1 is not inked; lidlet 1 is dark
found: lidlet 1 is limed; lidlet 2 is blistered
found: lidlet 1 is lifted; lidlet 1 is not groovy
found: trunklet is odd; trunklet is even
"""

PACKS["places"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet.
A trunklet has 1 to 4 lidlets (usually 3; from the top).
A lidlet has two peglets (left, right).
You can see whether a peglet is worn-down.  On its own: in 2 of 10 cases
You can see whether a peglet is split-up.  On its own: in 1 of 10 cases
You can feel whether a lidlet is stiffish.  On its own: in 1 of 10 cases
You can feel whether a lidlet is loosish.  On its own: in 1 of 10 cases
You can hear whether a lidlet is creaky.
You can see whether a trunklet is leaning.
You can see whether a trunklet is tipsy.
A trunklet may be racky without showing it.
If the left peglet of a lidlet is worn-down then the lidlet is usually stiffish.  From: house
If the left peglet of a lidlet is split-up then its right peglet is often split-up.  From: house
If the lowest lidlet of a trunklet is loosish then the trunklet is often leaning.  From: house
If the second lidlet of a trunklet is stiffish and the last lidlet is not stiffish then the trunklet is sometimes tipsy.  From: house
If a right peglet is worn-down then its lidlet is sometimes loosish.  From: house
If the top lidlet of a trunklet is creaky then the trunklet is sometimes racky.  From: house
order: trunklet
found:
found: lidlet 3 is loosish; left peglet of lidlet 1 is worn-down
found: trunklet is tipsy; trunklet is leaning
found: right peglet of lidlet 2 is certainly split-up; right peglet of lidlet 1 is worn-down
order: trunklet with 1 lidlet
found:
found: lidlet 1 is loosish; trunklet is racky
"""

PACKS["places others"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet.
A trunklet has 3 lidlets (from the bottom).
A lidlet has two peglets (left, right).
You can feel whether a lidlet is stiffish.  On its own: in 1 of 10 cases
You can feel whether a lidlet is loosish.  On its own: in 1 of 10 cases
You can hear whether a lidlet is creaky.
You can see whether a peglet is worn-down.  On its own: in 2 of 10 cases
You can see whether a peglet is split-up.  On its own: in 1 of 10 cases
You can see whether a trunklet is tipsy.
You can see whether a lidlet is dull.
A lidlet may be racky without showing it.
If a lidlet is loosish then the other lidlets are often creaky.  From: house
If a lidlet is stiffish and no other lidlet is stiffish then it is often racky.  From: house
If a peglet is worn-down then the other peglet is sometimes split-up.  From: house
If a lidlet is the lowest lidlet and it is stiffish then it is usually dull.  From: house
If a lidlet is stiffish and all the other lidlets are loosish then it is often dull.  From: house
order: trunklet
found:
found: lidlet 1 is loosish; lidlet 2 is certainly loosish
found: lidlet 1 is stiffish; lidlet 3 is not stiffish
found: left peglet of lidlet 1 is worn-down; right peglet of lidlet 1 is not worn-down
found: right peglet of lidlet 1 is split-up
found: lidlet 1 is dull; lidlet 2 is creaky
"""

PACKS["places more"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, footlet (plural feetlets).
A trunklet has 2 to 3 lidlets (usually 3) and 4 feetlets (front left, front right, back left, back right).
You can feel whether a lidlet is stiffish.  On its own: in 1 of 10 cases
You can feel whether a lidlet is loosish.  On its own: in 1 of 10 cases
You can see whether a footlet is rotten.  On its own: in 1 of 10 cases
You can see whether a footlet is damp.  On its own: in 1 of 10 cases
You can see whether a trunklet is tipsy.
You can see whether a trunklet is leaning.
You can see whether a trunklet is swaying.
A lidlet may be racky without showing it.
If a lidlet is stiffish and at least 2 other lidlets are stiffish then it is sometimes racky.  From: house
If a lidlet is loosish and another lidlet is loosish then its trunklet is sometimes tipsy.  From: house
If a footlet is rotten and all the other feetlets are rotten then it is often damp.  From: house
If both left feetlets of a trunklet are rotten then the trunklet is often leaning.  From: house
If any back footlet of a trunklet is rotten then its front feetlets are sometimes damp.  From: house
If the front left footlet of a trunklet is damp then the trunklet is sometimes swaying.  From: house
If at least two left feetlets of a trunklet are damp or its last lidlet is loosish then the trunklet is often swaying.  From: house
If a trunklet is leaning then every lidlet of the trunklet is often racky.  From: house
order: trunklet
found:
found: lidlet 1 is racky; lidlet 3 is loosish
found: front left footlet is rotten; trunklet is leaning
found: trunklet is swaying; back right footlet is certainly rotten
order: trunklet with 2 lidlets
found:
found: lidlet 2 is loosish; trunklet is tipsy
"""

# --- after something was mended ---------------------------------------------------------------

PACKS["mended"] = HEAD + """
Pieces: trunklet.
Parts: peglet.
A trunklet has a peglet.
You can feel whether a trunklet is wonky.    On its own: in 1 of 10 cases  Slip: 3 in 100
A peglet may be racky without showing it.    On its own: in 2 of 10 cases
A trunklet may be sprung without showing it.  On its own: in 3 of 10 cases
If a peglet is racky then its trunklet is often wonky.  From: house
If a trunklet is sprung then it is usually wonky.  From: house
When a peglet is probably racky then plan to fit a new peglet.  From: house
When a trunklet is probably sprung then plan to press the trunklet.  From: house
Job: fit a new peglet.  Takes: 2 hours  Mends: a peglet is racky  Holds: in 9 of 10 cases
Job: press the trunklet.  Takes: 2 hours  Mends: a trunklet is sprung
order: trunklet
record: trunklet is wonky; peglet is racky
record: trunklet is wonky; done: fit a new peglet on peglet
record: trunklet is wonky; peglet is racky; done: fit a new peglet on peglet
record: trunklet is wonky; done: fit a new peglet on peglet; trunklet is wonky
record: trunklet is wonky; done: fit a new peglet on peglet; trunklet is not wonky
record: trunklet is wonky; done: fit a new peglet on peglet; trunklet is certainly wonky
record: trunklet is wonky; done: fit a new peglet on peglet; trunklet looks wonky
record: trunklet is wonky; done: fit a new peglet on peglet; trunklet is wonky; trunklet is not wonky
record: done: fit a new peglet on peglet; trunklet is wonky
record: done: fit a new peglet on peglet; trunklet is sprung
record: trunklet is wonky; done: fit a new peglet on peglet; trunklet is not sprung
record: trunklet is wonky; done: fit a new peglet on peglet; trunklet is wonky; done: press the trunklet on trunklet
record: trunklet is wonky; done: fit a new peglet on peglet; trunklet is wonky; done: press the trunklet on trunklet; trunklet is wonky
record: trunklet is wonky; done: fit a new peglet on peglet; done: press the trunklet on trunklet; trunklet is not wonky
"""

PACKS["mended twice"] = PACKS["mended"].split("order:")[0] + """
order: trunklet
record: trunklet is wonky; done: fit a new peglet on peglet; done: fit a new peglet on peglet
record: trunklet is wonky; peglet is racky; done: fit a new peglet on peglet; trunklet is wonky; done: fit a new peglet on peglet
record: trunklet is wonky; done: fit a new peglet on peglet; trunklet is wonky; done: fit a new peglet on peglet; trunklet is wonky
record: trunklet is wonky; done: fit a new peglet on peglet; trunklet is wonky; done: fit a new peglet on peglet; trunklet is not wonky
"""

PACKS["mended and found again"] = PACKS["mended"].split("order:")[0] + """
order: trunklet
record: done: fit a new peglet on peglet; peglet is racky
record: done: fit a new peglet on peglet; peglet is certainly racky
record: trunklet is wonky; done: fit a new peglet on peglet; peglet is racky
record: trunklet is wonky; done: fit a new peglet on peglet; peglet is not racky
record: trunklet is wonky; done: fit a new peglet on peglet; peglet looks racky
record: trunklet is wonky; done: fit a new peglet on peglet; peglet does not look racky
record: trunklet is wonky; done: fit a new peglet on peglet; peglet is certainly not racky; trunklet is wonky
record: trunklet is wonky; done: fit a new peglet on peglet; trunklet is not wonky; peglet is racky
record: trunklet is wonky; done: fit a new peglet on peglet; trunklet is wonky; peglet is racky
record: trunklet is wonky; done: fit a new peglet on peglet; peglet is racky; trunklet is not wonky
differs: trunklet is wonky; done: fit a new peglet on peglet; trunklet is wonky; peglet is racky; trunklet is not wonky
differs: trunklet is wonky; done: fit a new peglet on peglet; peglet is racky; peglet is not racky
differs: trunklet is wonky; done: fit a new peglet on peglet; peglet is racky; peglet looks racky
record: trunklet is wonky; done: fit a new peglet on peglet; peglet is racky; done: fit a new peglet on peglet
record: trunklet is wonky; done: fit a new peglet on peglet; peglet is racky; done: fit a new peglet on peglet; trunklet is wonky
record: trunklet is wonky; done: fit a new peglet on peglet; peglet is racky; trunklet is not wonky; done: fit a new peglet on peglet; trunklet is wonky
record: peglet is racky; done: fit a new peglet on peglet; peglet is not racky; done: fit a new peglet on peglet; peglet is racky
"""

PACKS["mended, taken back"] = PACKS["mended"].split("order:")[0] + """
order: trunklet
record: trunklet is wonky; done: fit a new peglet on peglet; undo: fit a new peglet on peglet
record: trunklet is wonky; done: fit a new peglet on peglet; trunklet is wonky; undo: fit a new peglet on peglet
record: trunklet is wonky; done: fit a new peglet on peglet; trunklet is not wonky; undo: fit a new peglet on peglet
record: trunklet is wonky; done: fit a new peglet on peglet; peglet is racky; undo: fit a new peglet on peglet
record: trunklet is wonky; done: fit a new peglet on peglet; undo: fit a new peglet on peglet; trunklet is not wonky
record: trunklet is wonky; done: fit a new peglet on peglet; undo: fit a new peglet on peglet; done: fit a new peglet on peglet; trunklet is not wonky
record: trunklet is wonky; done: fit a new peglet on peglet; done: press the trunklet on trunklet; trunklet is not wonky; undo: fit a new peglet on peglet
"""

PACKS["mended, work of one's own"] = PACKS["mended"].split("order:")[0] + """
order: trunklet
record: trunklet is wonky; done: shim it up, mends peglet is racky
record: trunklet is wonky; done: shim it up, mends peglet is racky; trunklet is wonky
record: trunklet is wonky; done: shim it up, mends peglet is racky; trunklet is not wonky
record: trunklet is wonky; peglet is racky; done: plane it down, mends trunklet is wonky
record: trunklet is wonky; peglet is racky; done: plane it down, mends trunklet is wonky; trunklet is wonky
record: trunklet is wonky; done: plane it down, mends trunklet is wonky; trunklet looks wonky
record: trunklet is wonky; done: plane it down, mends trunklet is wonky; trunklet is not wonky
record: trunklet is wonky; done: fit a new peglet on peglet; done: shim it up, mends peglet is racky; trunklet is wonky
"""

PACKS["mended, what hangs on what"] = HEAD + """
Pieces: trunklet.
Parts: lidlet, peglet.
A trunklet has 2 lidlets.
A lidlet has two peglets (left, right).
A peglet may be racky without showing it.    On its own: in 2 of 10 cases
A lidlet may be sprung without showing it.   On its own: in 1 of 10 cases
A lidlet may be torpid without showing it.   On its own: in 1 of 10 cases
You can feel whether a lidlet is wonky.      On its own: in 1 of 20 cases  Slip: 2 in 100
You can see whether a lidlet is gritty.      On its own: in 1 of 20 cases
You can see whether a trunklet is tipsy.     On its own: in 1 of 20 cases
You can see whether a trunklet is bowed.     On its own: in 1 of 20 cases
If any peglet of a lidlet is racky then the lidlet is usually wonky.  From: house
If a lidlet is wonky then it is often gritty.  From: house
If a lidlet is wonky then it is often sprung.  From: house
If a lidlet is sprung then its trunklet is often tipsy.  From: house
If every lidlet of a trunklet is wonky then the trunklet is usually bowed.  From: house
If a lidlet is not wonky and it is torpid then it is usually gritty.  From: house
Job: fit new peglets.  Takes: 2 hours  Mends: a peglet is racky  Holds: in 8 of 10 cases
Job: press the lidlet.  Takes: 2 hours  Mends: a lidlet is sprung, a lidlet is torpid  Holds: in 7 of 10 cases
order: trunklet
record: lidlet 1 is wonky; done: fit new peglets on left peglet of lidlet 1
record: lidlet 1 is wonky; lidlet 2 is wonky; done: fit new peglets on left peglet of lidlet 1; lidlet 1 is wonky
record: lidlet 1 is wonky; done: fit new peglets on lidlet 1; lidlet 1 is wonky
record: lidlet 1 is wonky; lidlet 1 is sprung; done: fit new peglets on lidlet 1; lidlet 1 is gritty
record: trunklet is tipsy; lidlet 1 is gritty; done: fit new peglets on lidlet 1; trunklet is tipsy
record: trunklet is tipsy; lidlet 1 is gritty; done: fit new peglets on trunklet; trunklet is bowed; lidlet 1 is sprung
record: trunklet is tipsy; lidlet 1 is gritty; done: press the lidlet on lidlet 1; trunklet is tipsy; lidlet 1 is gritty
record: trunklet is tipsy; done: press the lidlet on lidlet 1; done: press the lidlet on lidlet 2; trunklet is not tipsy; lidlet 2 is wonky
record: trunklet is bowed; done: fit new peglets on right peglet of lidlet 2; trunklet is bowed; lidlet 2 is not wonky
record: lidlet 1 is gritty; done: press the lidlet on lidlet 1; lidlet 1 is gritty; done: fit new peglets on lidlet 1; lidlet 1 is gritty
"""

PACKS["mended signs"] = HEAD + """
Pieces: trunklet.
Parts: peglet.
A trunklet has 2 peglets.
A peglet may be racky without showing it.    On its own: in 2 of 10 cases
You can feel whether a trunklet is wonky.    On its own: in 1 of 10 cases  Slip: 4 in 100
You can feel whether a trunklet is tipsy.    On its own: in 1 of 10 cases
You can see whether a peglet is gritty.      On its own: in 1 of 10 cases
If any peglet of a trunklet is racky then the trunklet is usually wonky.  From: house
If a trunklet is wonky then it is often tipsy.  From: house
If a peglet is racky then it is often gritty.  From: house
Job: true the trunklet.  Takes: 2 hours  Mends: a trunklet is wonky  Holds: in 9 of 10 cases
Job: fit the peglet.  Takes: 2 hours  Mends: a peglet is racky
order: trunklet
record: trunklet is wonky; done: true the trunklet on trunklet
record: trunklet is tipsy; done: true the trunklet on trunklet; trunklet is tipsy
record: trunklet is wonky; done: true the trunklet on trunklet; trunklet is wonky
record: trunklet is wonky; done: true the trunklet on trunklet; trunklet is not wonky
record: trunklet is wonky; done: true the trunklet on trunklet; trunklet looks wonky
record: trunklet is wonky; done: fit the peglet on peglet 1; trunklet is not wonky
record: trunklet is wonky; done: fit the peglet on peglet 1; trunklet is tipsy
record: peglet 1 is gritty; done: fit the peglet on peglet 1; peglet 1 is gritty
record: peglet 1 is gritty; done: wipe it, mends peglet 1 is gritty; peglet 1 is gritty
record: peglet 1 is gritty; done: wipe it, mends peglet 1 is gritty; done: fit the peglet on peglet 1; peglet 1 is not gritty
record: peglet 1 is gritty; done: fit the peglet on peglet 1; done: wipe it, mends peglet 1 is gritty; peglet 1 looks gritty
"""

PACKS["mended, limits and exceptions"] = HEAD + """
Pieces: trunklet.
A trunklet may be racky without showing it.    On its own: in 2 of 10 cases
A trunklet may be sprung without showing it.   On its own: in 3 of 10 cases
You can see whether a trunklet is grooved-in.  On its own: in 5 of 10 cases
You can see whether a trunklet is wonky.       On its own: in 1 of 10 cases
You can see whether a trunklet is gritty.      On its own: in 1 of 10 cases
You can see whether a trunklet is mossy.       On its own: in 1 of 10 cases
You can see which tint a trunklet has: reddish, greenish or bluish.
A trunklet can be gritty only if it is racky.  From: house
A trunklet can be racky only if it is grooved-in.  From: house
If a trunklet is sprung then it is usually wonky unless it is racky.  From: house
If a trunklet is racky and it is greenish then it is usually wonky.  From: house
If a trunklet is wonky then it is often gritty.  From: house
If a trunklet is racky then it is often mossy or wonky.  From: house
Job: mend it.  Takes: 2 hours  Mends: a trunklet is racky  Holds: often
Job: press it.  Takes: 2 hours  Mends: a trunklet is sprung
order: trunklet
record: trunklet is wonky; done: mend it on trunklet
record: trunklet is wonky; done: mend it on trunklet; trunklet is wonky
record: trunklet is gritty; done: mend it on trunklet; trunklet is gritty
record: trunklet is gritty; done: mend it on trunklet; trunklet is not gritty; trunklet is bluish
record: trunklet is wonky; trunklet is greenish; done: mend it on trunklet; trunklet is grooved-in; trunklet is wonky
record: trunklet is mossy; done: mend it on trunklet; trunklet is mossy; trunklet is wonky
record: trunklet is mossy; done: mend it on trunklet; trunklet is not mossy; trunklet is wonky
record: trunklet is wonky; done: mend it on trunklet; done: press it on trunklet; trunklet is wonky; trunklet is mossy
"""

PACKS["mended, a measure"] = HEAD + """
Pieces: trunklet.
A trunklet may be racky without showing it.   On its own: in 2 of 10 cases
A trunklet may be sprung without showing it.  On its own: in 3 of 10 cases
You can measure how much a trunklet is worn, in mm, from 0 to 10.  Reads to: 0.5 mm  On its own: in 3 of 10 cases
A trunklet counts as slackish when it is worn at least 2 mm.   On its own: in 2 of 10 cases
A trunklet counts as thinnish when it is worn at least 4 mm.   On its own: in 1 of 10 cases
A trunklet counts as spent when it is worn at least 8 mm.   On its own: in 4 of 100 cases
You can measure how thick a trunklet is, in mm, from 5 to 25.  Reads to: 1 mm  On its own: in 2 of 10 cases
A trunklet counts as planed-off when it is at most 10 mm thick.    On its own: in 1 of 10 cases
You can feel whether a trunklet is wonky.    On its own: in 1 of 10 cases
You can feel whether a trunklet is tipsy.    On its own: in 1 of 10 cases
If a trunklet is racky then it is usually thinnish.  From: house
If a trunklet is sprung then it is usually slackish.  From: house
If a trunklet is sprung then it is usually planed-off.  From: house
If a trunklet is worn at least 3 mm then it is often wonky.  From: house
If a trunklet is at most 8 mm thick then it is often tipsy.  From: house
Job: mend it.  Takes: 2 hours  Mends: a trunklet is racky  Holds: in 8 of 10 cases
Job: press it.  Takes: 2 hours  Mends: a trunklet is sprung
order: trunklet
record: trunklet is worn 5 mm; done: mend it on trunklet
differs: trunklet is worn 5 mm; done: mend it on trunklet; trunklet is worn 5 mm
differs: trunklet is worn 5 mm; done: mend it on trunklet; trunklet is worn 1 mm
differs: trunklet is worn 5 mm; done: mend it on trunklet; trunklet is worn 3 mm; trunklet is wonky
record: trunklet is wonky; done: mend it on trunklet; trunklet is not wonky
record: trunklet is worn 5 mm; done: press it on trunklet; trunklet is worn 9 mm
record: trunklet is 9 mm thick; done: press it on trunklet; trunklet is 20 mm thick
record: trunklet is tipsy; done: press it on trunklet; trunklet is tipsy
record: trunklet is thinnish; done: mend it on trunklet; trunklet is not slackish
"""

PACKS["mended measures"] = PACKS["mended, a measure"].split("order:")[0] + """
Job: build it up.  Takes: 2 hours  Mends: a trunklet is thinnish  Holds: in 8 of 10 cases
Job: thicken it.  Takes: 2 hours  Mends: a trunklet is planed-off  Holds: in 8 of 10 cases
order: trunklet
record: trunklet is worn 5 mm; done: build it up on trunklet
record: trunklet is worn 3 mm; done: build it up on trunklet
record: trunklet is worn 5 mm; done: build it up on trunklet; trunklet is wonky
record: trunklet is worn 5 mm; done: build it up on trunklet; trunklet is worn 0 mm
record: trunklet is worn 5 mm; done: build it up on trunklet; trunklet is worn 5 mm
record: trunklet is worn 5 mm; done: build it up on trunklet; trunklet is worn 3.2 mm; trunklet is wonky
record: trunklet is worn 5 mm; done: build it up on trunklet; trunklet is worn 0.4 mm
record: trunklet is worn 5 mm; done: build it up on trunklet; trunklet is not thinnish
record: trunklet is worn 5 mm; done: build it up on trunklet; trunklet looks thinnish
record: trunklet is worn 5 mm; done: build it up on trunklet; trunklet is not slackish
differs: trunklet is worn 5 mm; done: build it up on trunklet; trunklet is thinnish
differs: trunklet is worn 5 mm; done: build it up on trunklet; trunklet is slackish
record: trunklet is worn 5 mm; done: build it up on trunklet; done: mend it on trunklet; trunklet is wonky
record: trunklet is worn 5 mm; done: mend it on trunklet; trunklet is worn 5 mm
record: trunklet is 9 mm thick; done: thicken it on trunklet; trunklet is 25 mm thick
record: trunklet is 9 mm thick; done: thicken it on trunklet; trunklet is tipsy
record: trunklet is 9 mm thick; done: thicken it on trunklet; trunklet is 9 mm thick
record: trunklet is 9 mm thick; done: thicken it on trunklet; trunklet is 20 mm thick
record: trunklet is 9 mm thick; done: press it on trunklet; trunklet is 20 mm thick
record: trunklet is worn 5 mm; done: shim it, mends trunklet is slackish; trunklet is wonky
"""

PACKS["mended, degrees"] = HEAD + """
Pieces: trunklet.
A trunklet may be sprung without showing it.  On its own: in 3 of 10 cases
A trunklet may be racky without showing it.  On its own: in 2 of 10 cases
You can see how badly a trunklet is stained: slightly, clearly or badly.  On its own: in 2 of 10 cases  Slip: 4 in 100
You can see how badly a trunklet is lifted: slightly or badly.  On its own: in 2 of 10 cases  Slip: 4 in 100
You can feel whether a trunklet is wonky.    On its own: in 1 of 10 cases
If a trunklet is sprung then it is usually badly stained.  From: house
If a trunklet is racky then it is usually stained.  From: house
If a trunklet is racky then it is usually badly lifted.  From: house
If a trunklet is at least clearly stained then it is often wonky.  From: house
Job: clean it.  Takes: 2 hours  Mends: a trunklet is stained  Holds: in 8 of 10 cases
Job: press it.  Takes: 2 hours  Mends: a trunklet is racky  Holds: in 8 of 10 cases
order: trunklet
record: trunklet is badly stained; done: clean it on trunklet
record: trunklet is badly stained; done: clean it on trunklet; trunklet is wonky
record: trunklet is badly stained; done: clean it on trunklet; trunklet is not stained
record: trunklet is badly stained; done: clean it on trunklet; trunklet is slightly stained
record: trunklet is badly stained; done: clean it on trunklet; trunklet is certainly clearly stained
record: trunklet is badly stained; done: clean it on trunklet; trunklet is not badly stained
record: trunklet is badly stained; done: clean it on trunklet; trunklet looks clearly stained
differs: trunklet is badly stained; done: clean it on trunklet; trunklet is stained
record: trunklet is badly lifted; done: press it on trunklet; trunklet is slightly lifted
record: trunklet is badly lifted; done: press it on trunklet; trunklet is not lifted; trunklet is badly stained
"""

PACKS["mended, at most one of"] = HEAD + """
Pieces: trunklet.
A trunklet may be sprung without showing it.  On its own: in 3 of 10 cases
A trunklet may be racky without showing it.  On its own: in 2 of 10 cases
You can see whether a trunklet is mossy.  On its own: in 2 of 10 cases
You can see whether a trunklet is foxed.  On its own: in 1 of 10 cases
A trunklet is at most one of mossy or foxed.  From: house
If a trunklet is sprung then it is usually mossy.  From: house
If a trunklet is racky then it is usually foxed.  From: house
Job: press it.  Takes: 2 hours  Mends: a trunklet is racky  Holds: in 8 of 10 cases
order: trunklet
record: trunklet is foxed; done: press it on trunklet
record: trunklet is foxed; done: press it on trunklet; trunklet is foxed
record: trunklet is foxed; done: press it on trunklet; trunklet is mossy
record: trunklet is foxed; done: press it on trunklet; trunklet is not mossy
record: trunklet is foxed; done: wipe it, mends trunklet is foxed; trunklet is mossy
"""

PACKS["mended, what signs mean"] = HEAD + """
Pieces: trunklet.
A trunklet may be sprung without showing it.  On its own: in 3 of 10 cases
A trunklet may be racky without showing it.  On its own: in 2 of 10 cases
A trunklet is at most one of sprung or racky.  From: house
You can see whether a trunklet is mossy.  On its own: in 2 of 10 cases
You can see whether a trunklet is foxed.  On its own: in 1 of 10 cases
If a trunklet is sprung then it is usually mossy.  From: house
If a trunklet is mossy, that in 4 of 10 cases means it is racky.  From: house
If a trunklet is foxed, that often means it is sprung.  From: house
Job: press it.  Takes: 2 hours  Mends: a trunklet is racky  Holds: in 8 of 10 cases
order: trunklet
record: trunklet is foxed; done: press it on trunklet
record: trunklet is mossy; done: press it on trunklet; trunklet is mossy
record: trunklet is mossy; done: press it on trunklet; trunklet is sprung
record: trunklet is mossy; trunklet is racky; done: press it on trunklet; trunklet is foxed
"""

PACKS["mended, kinds and what is built in"] = HEAD + """
Pieces: trunklet, bundlet.
Parts: lidlet, peglet, slidlet.
A bundlet is a kind of trunklet.
A slidlet is a kind of lidlet.
A trunklet has 2 lidlets.
A bundlet has 1 lidlet and 1 slidlet.
A lidlet has two peglets (left, right).
A slidlet has a peglet.
A peglet may be racky without showing it.  On its own: in 3 of 10 cases
A lidlet may be sprung without showing it.  On its own: in 2 of 10 cases
You can see whether a lidlet is mossy.  On its own: in 2 of 10 cases
You can see whether a trunklet is foxed.  On its own: in 1 of 10 cases
If any peglet of a lidlet is racky then the lidlet is usually mossy.  From: house
If a lidlet is sprung then it is often mossy.  From: house
If a lidlet is mossy then its trunklet is often foxed.  From: house
Job: press it.  Takes: 2 hours  Mends: a peglet is racky, a lidlet is sprung  Holds: in 8 of 10 cases
Job: square it.  Takes: 2 hours  Mends: a lidlet is mossy  Holds: in 8 of 10 cases
order: trunklet
record: lidlet 1 is mossy; done: press it on lidlet 1
record: lidlet 1 is mossy; done: press it on lidlet 1; lidlet 1 is mossy
record: lidlet 1 is mossy; done: press it on left peglet of lidlet 1; lidlet 1 is mossy
record: lidlet 1 is mossy; done: square it on left peglet of lidlet 1; lidlet 1 is mossy
record: lidlet 1 is mossy; done: press it on every lidlet; lidlet 2 is mossy
record: lidlet 1 is mossy; trunklet is foxed; done: press it on trunklet; trunklet is foxed
record: lidlet 1 is mossy; trunklet is foxed; done: press it on lidlet 1; undo: press it on lidlet 1; trunklet is foxed
record: lidlet 1 is mossy; done: press it on lidlet 1; done: press it on lidlet 2; undo: press it on lidlet 1; trunklet is foxed
record: done: press it on lidlet 1; done: press it on lidlet 1; undo: press it on lidlet 1; lidlet 1 is mossy
order: bundlet
record: slidlet is mossy; bundlet is foxed; done: press it on slidlet; bundlet is foxed
record: slidlet is mossy; bundlet is foxed; done: square it on bundlet; bundlet is foxed
"""

PACKS["mended, read by no rule"] = HEAD + """
Pieces: trunklet.
You can see whether a trunklet is gritty.  On its own: in 3 of 10 cases  Slip: 8 in 100
order: trunklet
differs: trunklet is gritty; done: wipe it, mends trunklet is gritty
"""

PACKS["mended, opened up"] = PACKS["mended"].split("order:")[0] + """
order: trunklet
record: trunklet is wonky; done: fit a new peglet on peglet, found peglet is racky
record: trunklet is wonky; done: fit a new peglet on peglet, not found peglet is racky
record: trunklet is wonky; done: fit a new peglet on peglet, found peglet is racky; trunklet is wonky
record: trunklet is wonky; done: fit a new peglet on peglet; trunklet is wonky; done: press the trunklet on trunklet, not found trunklet is sprung
record: trunklet is wonky; done: fit a new peglet on peglet; trunklet is wonky; done: fit a new peglet on peglet, found peglet is racky
record: trunklet is wonky; done: fit a new peglet on peglet; trunklet is wonky; done: fit a new peglet on peglet, not found peglet is racky
"""

PACKS["mended, measured twice"] = HEAD + """
Pieces: trunklet.
A trunklet may be sprung without showing it.  On its own: in 3 of 10 cases
You can measure how much a trunklet is worn, in mm, from 0 to 10.  Reads to: 1 mm  On its own: in 3 of 10 cases
A trunklet counts as slackish when it is worn at least 4 mm.   On its own: in 1 of 10 cases
If a trunklet is sprung then it is usually slackish.  From: house
Job: build it up.  Takes: 2 hours  Mends: a trunklet is slackish  Holds: in 8 of 10 cases
Job: press it.  Takes: 2 hours  Mends: a trunklet is sprung
order: trunklet
record: trunklet is worn 5 mm; done: build it up on trunklet; trunklet is worn 3 mm
record: trunklet is worn 3 mm; done: press it on trunklet; trunklet is worn 3 mm
"""

PACKS["mended, measured twice, an undivided stretch"] = HEAD + """
Pieces: trunklet.
A trunklet may be sprung without showing it.  On its own: in 3 of 10 cases
You can measure how much a trunklet is worn, in mm, from 0 to 10.  Reads to: 1 mm  On its own: in 3 of 10 cases
A trunklet counts as slackish when it is worn at least 4 mm.   On its own: in 1 of 10 cases
If a trunklet is sprung then it is usually slackish.  From: house
Job: press it.  Takes: 2 hours  Mends: a trunklet is sprung
order: trunklet
record: trunklet is worn 3 mm; done: press it on trunklet; trunklet is worn 1 mm
"""

PACKS["mended, measured twice, a stretch that a rule divides"] = HEAD + """
Pieces: trunklet.
A trunklet may be sprung without showing it.  On its own: in 3 of 10 cases
You can measure how much a trunklet is worn, in mm, from 0 to 10.  Reads to: 1 mm  On its own: in 3 of 10 cases
A trunklet counts as slackish when it is worn at least 4 mm.   On its own: in 1 of 10 cases
If a trunklet is sprung then it is usually slackish.  From: house
Job: press it.  Takes: 2 hours  Mends: a trunklet is sprung
You can feel whether a trunklet is wonky.  On its own: in 1 of 10 cases
If a trunklet is worn at least 2 mm then it is often wonky.  From: house
order: trunklet
differs: trunklet is worn 3 mm; done: press it on trunklet; trunklet is worn 1 mm
"""

PACKS["mended, measured twice, further in a stretch"] = HEAD + """
Pieces: trunklet.
A trunklet may be sprung without showing it.  On its own: in 3 of 10 cases
You can measure how much a trunklet is worn, in mm, from 0 to 10.  Reads to: 1 mm  On its own: in 3 of 10 cases
A trunklet counts as slackish when it is worn at least 4 mm.   On its own: in 1 of 10 cases
A trunklet counts as spent when it is worn at least 8 mm.
If a trunklet is sprung then it is usually slackish.  From: house
Job: press it.  Takes: 2 hours  Mends: a trunklet is sprung
order: trunklet
differs: trunklet is worn 5 mm; done: press it on trunklet; trunklet is worn 9 mm
"""
