"""What can be asked of the program, in one table: its name, what it is told, and what it answers.

From the table come the commands with their options and help, the forms in the talk, the command list of the app and
the completion of the shell, so that a command and the talk take the same words and give the same answer.

May: name the functions of counsel, and read what a service is told.
May not: know a command line, a conversation or a screen.
"""
