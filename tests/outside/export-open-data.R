# SPDX-FileCopyrightText: The Markerlamp developers
# SPDX-License-Identifier: GPL-3.0-or-later
# Rscript export-open-data.R FOLDER: open answers of real people, from packages that Debian ships, as
# person,occasion,item,right. Written when testing, so that no copy is kept here. Exits 77 where a package is
# missing.
#
# verbal.csv  VerbAgg of lme4: 316 people, 4 situations with 6 items each (Vansteelandt 2000; De Boeck & Wilson
#             2004). Right: "yes" or "perhaps". Occasion: the situation.
# ability.csv ability of psychTools: 16 items of four kinds, with gaps (Condon & Revelle 2014); the first 500
#             people. Occasion: the kind.
# exam.csv    MathExam14W of psychotools: 729 students, 13 items (Zeileis, Innsbruck 2014). Occasion: every four
#             items on, in the exam's order.
# memory.csv  MemoryDeficits of psychotools: 96 people learn 20 word pairs in six trials (Riefer et al. 2002).
#             Only counts are known: E1 + E2 pairs recalled of 20. Columns person,occasion,recalled,of.
folder <- commandArgs(TRUE)[1]
needed <- c("lme4", "psychTools", "psychotools")
missing <- needed[!vapply(needed, function(p) length(find.package(p, quiet = TRUE)) > 0, TRUE)]
if (length(missing)) {
    message("R packages missing: ", paste(missing, collapse = " "))
    quit(status = 77)
}
save_as <- function(rows, name) {
    write.csv(rows[stats::complete.cases(rows), ], file.path(folder, name), row.names = FALSE, quote = FALSE)
}
answers <- function(wide, occasion) {
    wide <- unname(as.matrix(wide))
    data.frame(person = rep(seq_len(nrow(wide)), times = ncol(wide)),
               occasion = rep(occasion, each = nrow(wide)),
               item = rep(seq_len(ncol(wide)), each = nrow(wide)),
               right = as.integer(wide))
}

verbal <- lme4::VerbAgg
save_as(data.frame(person = as.integer(verbal$id),
                   occasion = as.integer(substr(as.character(verbal$item), 2, 2)),
                   item = as.integer(verbal$item),
                   right = as.integer(verbal$r2 == "Y")), "verbal.csv")

ability <- get(utils::data("ability", package = "psychTools"))[1:500, ]
save_as(answers(ability, match(sub("\\..*", "", colnames(ability)), c("reason", "letter", "matrix", "rotate"))),
        "ability.csv")

suppressMessages(library(psychotools))
exam <- get(utils::data("MathExam14W", package = "psychotools"))
solved <- as.matrix(exam$solved)
save_as(answers(solved, pmin(1 + (seq_len(ncol(solved)) - 1) %/% 4, 3)), "exam.csv")

memory <- get(utils::data("MemoryDeficits", package = "psychotools"))
save_as(data.frame(person = as.integer(factor(paste(memory$group, memory$ID))), occasion = memory$trial,
                   recalled = memory$E1 + memory$E2, of = 20L), "memory.csv")
