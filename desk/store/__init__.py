"""The database: schema, migrations, one file per noun, journal, backup."""
