"""The shop file, product lists and mailer lists."""
