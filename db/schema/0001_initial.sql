-- First schema of a program file.
SELECT 1;
