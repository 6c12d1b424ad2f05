import platform, numpy, scipy
print('{"name":"Python %s, numpy %s, scipy %s","seconds":0}' % (platform.python_version(), numpy.__version__, scipy.__version__))
