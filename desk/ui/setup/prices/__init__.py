"""Setup > Price lists."""
