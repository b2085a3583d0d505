//! From verified designs to drawings, tables and documents.
